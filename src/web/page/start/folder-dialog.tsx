/** Chooses clips in the folders of this machine that were allowed: crumbs, folders, clips to tick. Nothing is copied. */
import { useEffect, useState } from 'preact/hooks';
import { startTexts } from '../../../texts/index.js';
import type { AllowedFolder, FolderListing } from '../../api.js';
import { getJson, problemOf } from '../api-client.js';
import { whenWords } from '../log/run-words.js';
import { Dialog } from '../parts/dialog.js';
import { sizeWords } from './clip-figures.js';
import { below, crumbsOf } from './folder-path.js';
import { addFromFolder } from './send-clips.js';

type Clip = FolderListing['clips'][number];

/** Where one is. */
interface Place {
  readonly folder: AllowedFolder;
  readonly path: string;
}

/** Shows it. */
export function FolderDialog({
  folders,
  onClose,
}: {
  readonly folders: readonly AllowedFolder[];
  readonly onClose: () => void;
}) {
  const [place, setPlace] = useState<Place | null>(
    folders.length === 1 ? { folder: folders[0], path: '' } : null,
  );
  const { listing, fault } = useListing(place);
  const [ticked, setTicked] = useState<readonly Clip[]>([]);
  const goTo = (next: Place | null): void => {
    setTicked([]);
    setPlace(next);
  };
  const tick = (clip: Clip, isTicked: boolean): void =>
    setTicked((all) => (isTicked ? [...all, clip] : all.filter(({ name }) => name !== clip.name)));
  const add = (): void => {
    if (place === null) return;
    addFromFolder(
      place.folder.id,
      ticked.map((clip) => ({ ...clip, path: below(place.path, clip.name) })),
    );
    onClose();
  };

  return (
    <Dialog title={startTexts.folderTitle} onClose={onClose}>
      <div class="folder">
        {place !== null && <Crumbs place={place} hasOthers={folders.length > 1} goTo={goTo} />}
        {place === null && folders.length === 0 && <p>{startTexts.noFolders}</p>}
        <ul class="folder-list">
          {place === null
            ? folders.map((folder) => (
                <li key={folder.id}>
                  <button type="button" onClick={() => goTo({ folder, path: '' })}>
                    <b>{folder.name}</b> <span class="legend">{folder.path}</span>
                  </button>
                </li>
              ))
            : listing !== null && (
                <>
                  {listing.folders.map((name) => (
                    <li key={`${name}/`}>
                      <button type="button" onClick={() => goTo({ ...place, path: below(place.path, name) })}>
                        <b>{name}/</b>
                      </button>
                    </li>
                  ))}
                  {listing.clips.map((clip) => (
                    <li key={clip.name}>
                      <label>
                        <input
                          type="checkbox"
                          checked={ticked.some(({ name }) => name === clip.name)}
                          onChange={(event) => tick(clip, event.currentTarget.checked)}
                        />
                        <span class="folder-clip">{clip.name}</span>
                        <span class="legend">
                          {sizeWords(clip.sizeBytes)}, {whenWords({ createdAt: clip.modifiedAt })}
                          {clip.hasRig && `, ${startTexts.hasRig}`}
                        </span>
                      </label>
                    </li>
                  ))}
                </>
              )}
        </ul>
        <p class={fault === null ? 'legend' : 'fault'} role="status">
          {fault ?? (place === null ? '' : wordsOn(listing))}
        </p>
        <div class="dialog-buttons">
          <button type="button" class="main" disabled={ticked.length === 0} onClick={add}>
            {startTexts.add(ticked.length)}
          </button>
        </div>
      </div>
    </Dialog>
  );
}

function Crumbs({
  place,
  hasOthers,
  goTo,
}: {
  readonly place: Place;
  readonly hasOthers: boolean;
  readonly goTo: (place: Place | null) => void;
}) {
  const crumbs = crumbsOf(place.folder.name, place.path);
  return (
    <nav class="folder-crumbs" aria-label={startTexts.folders}>
      {hasOthers && (
        <button type="button" onClick={() => goTo(null)}>
          {startTexts.folders}
        </button>
      )}
      {crumbs.map(({ name, path }, i) => (
        <button
          key={path}
          type="button"
          aria-current={i === crumbs.length - 1 ? 'location' : undefined}
          onClick={() => goTo({ folder: place.folder, path })}
        >
          {name}
        </button>
      ))}
    </nav>
  );
}

function wordsOn(listing: FolderListing | null): string {
  if (listing === null) return startTexts.looking;
  if (listing.more > 0) return startTexts.folderMore(listing.more);
  return listing.clips.length === 0 ? startTexts.folderEmpty : '';
}

/** What is in a place; null until it is known. */
function useListing(place: Place | null): {
  readonly listing: FolderListing | null;
  readonly fault: string | null;
} {
  const [found, setFound] = useState<{ listing: FolderListing | null; fault: string | null }>({
    listing: null,
    fault: null,
  });
  useEffect(() => {
    let isCurrent = true;
    setFound({ listing: null, fault: null });
    if (place === null) return;
    const address = `/api/folders/${encodeURIComponent(place.folder.id)}?path=${encodeURIComponent(place.path)}`;
    getJson<FolderListing>(address).then(
      (listing) => isCurrent && setFound({ listing, fault: null }),
      (error: unknown) => {
        const { detail } = problemOf(error);
        if (isCurrent) setFound({ listing: null, fault: detail });
      },
    );
    return () => {
      isCurrent = false;
    };
  }, [place]);
  return found;
}
