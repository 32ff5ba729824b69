/** Tells the server where the clip of an older run is: from a folder of the machine, or brought from this device. */
import { useEffect, useState } from 'preact/hooks';
import { findClipTexts } from '../../../texts/index.js';
import type { AllowedFolder, ClipEntry, FolderListing, FramePack, Problem } from '../../api.js';
import { ProblemError, getJson, sendJson, uploadClip } from '../api-client.js';
import { about } from '../about.js';
import { ProblemNote } from '../parts/problem-note.js';

/** The panel. @param onFound with the frames of the clip, which are made from now on */
export function FindClip({
  id,
  onFound,
}: {
  readonly id: number;
  readonly onFound: (pack: FramePack) => void;
}) {
  const [problem, setProblem] = useState<Problem | null>(null);
  const [percent, setPercent] = useState<number | null>(null);
  const [busy, setBusy] = useState(false);
  const folders = about.value?.folders ?? [];
  const use = async (entry: () => Promise<ClipEntry>): Promise<void> => {
    setProblem(null);
    setBusy(true);
    try {
      const { id: clip } = await entry();
      onFound(await sendJson<FramePack>('POST', `/api/runs/${id}/clip`, { clip }));
    } catch (error) {
      if (!(error instanceof ProblemError)) throw error;
      setProblem(error.problem);
    } finally {
      setBusy(false);
      setPercent(null);
    }
  };
  const bring = (file: File): Promise<ClipEntry> =>
    uploadClip(file, { onProgress: (sent, total) => setPercent(Math.round((100 * sent) / total)) });
  return (
    <section class="find-clip" aria-labelledby="find-clip">
      <h2 id="find-clip">{findClipTexts.title}</h2>
      {problem !== null && <ProblemNote problem={problem} />}
      {folders.map((folder) => (
        <FolderOf
          key={folder.id}
          folder={folder}
          busy={busy}
          use={(path) =>
            void use(() => sendJson<ClipEntry>('POST', '/api/clips/from-folder', { folder: folder.id, path }))
          }
        />
      ))}
      {folders.length === 0 && <p class="muted">{findClipTexts.noFolders}</p>}
      <label class="bring">
        <span>{percent === null ? findClipTexts.upload : findClipTexts.uploading(percent)}</span>
        <input
          type="file"
          accept="video/*,.mov,.mp4,.mxf,.mkv"
          disabled={busy}
          onChange={(event) => {
            const file = event.currentTarget.files?.[0];
            if (file) void use(() => bring(file));
          }}
        />
      </label>
    </section>
  );
}

function FolderOf({
  folder,
  busy,
  use,
}: {
  readonly folder: AllowedFolder;
  readonly busy: boolean;
  readonly use: (path: string) => void;
}) {
  const [path, setPath] = useState('');
  const [listing, setListing] = useState<FolderListing | null>(null);
  const [problem, setProblem] = useState<Problem | null>(null);
  useEffect(() => {
    const stop = new AbortController();
    setProblem(null);
    getJson<FolderListing>(`/api/folders/${folder.id}?path=${encodeURIComponent(path)}`, {
      signal: stop.signal,
    }).then(
      (found) => {
        if (!stop.signal.aborted) setListing(found);
      },
      (error: unknown) => {
        if (!stop.signal.aborted && error instanceof ProblemError) setProblem(error.problem);
      },
    );
    return () => stop.abort();
  }, [folder.id, path]);
  const below = (name: string): string => (path === '' ? name : `${path}/${name}`);
  return (
    <div class="folder">
      <h3 translate={false}>{below('') === '' ? folder.name : `${folder.name}/${path}`}</h3>
      {problem !== null && <ProblemNote problem={problem} />}
      {listing === null ? (
        <p class="muted">{findClipTexts.looking}</p>
      ) : (
        <ul>
          {path !== '' && (
            <li>
              <button type="button" onClick={() => setPath(path.split('/').slice(0, -1).join('/'))}>
                {findClipTexts.up}
              </button>
            </li>
          )}
          {listing.folders.map((name) => (
            <li key={name}>
              <button
                type="button"
                aria-label={findClipTexts.open(name)}
                onClick={() => setPath(below(name))}
              >
                {name}/
              </button>
            </li>
          ))}
          {listing.clips.map(({ name }) => (
            <li key={name}>
              <button
                type="button"
                disabled={busy}
                aria-label={findClipTexts.use(name)}
                onClick={() => use(below(name))}
              >
                {name}
              </button>
            </li>
          ))}
          {listing.clips.length + listing.folders.length === 0 && (
            <li class="muted">{findClipTexts.empty}</li>
          )}
          {listing.more > 0 && <li class="muted">{findClipTexts.more(listing.more)}</li>}
        </ul>
      )}
    </div>
  );
}
