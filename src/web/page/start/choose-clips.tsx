/** Where clips come from: dropped on the window, picked by the browser, or ticked in a folder of this machine. */
import { useRef, useState } from 'preact/hooks';
import { startTexts } from '../../../texts/index.js';
import { about } from '../about.js';
import { batch } from './batch.js';
import { sizeWords } from './clip-figures.js';
import { FolderDialog } from './folder-dialog.js';
import { addFiles } from './send-clips.js';
import { useWindowDrop, type Dropped } from './use-window-drop.js';

/** What cameras and recorders write; browsers know few of them as video. */
const KINDS = 'video/*,.mp4,.mov,.mxf,.mkv,.avi,.m4v,.mts,.m2ts,.mpg,.mpeg,.webm,.ts,.3gp,.wmv,.dv,.json';

/** The area, large while there is no clip yet. */
export function ChooseClips() {
  const [isLooking, setIsLooking] = useState(false);
  const [said, setSaid] = useState('');
  const input = useRef<HTMLInputElement>(null);
  const known = about.value;

  const take = ({ files, folders }: Dropped): void => {
    setSaid(folders > 0 ? startTexts.isFolder : files.length === 0 ? startTexts.noClips : '');
    if (known !== null) void addFiles(files, known).then((words) => words !== '' && setSaid(words));
  };
  const isOver = useWindowDrop(take);
  const isEmpty = batch.value.length === 0;
  return (
    <>
      <section class={`choose${isEmpty ? ' large' : ''}${isOver ? ' over' : ''}`}>
        <h2>{isOver ? startTexts.letGo : headingFor(isEmpty)}</h2>
        <div class="choose-buttons">
          <button
            type="button"
            class={isEmpty ? 'main' : ''}
            disabled={known === null}
            onClick={() => input.current?.click()}
          >
            {startTexts.choose}
          </button>
          <button type="button" disabled={known === null} onClick={() => setIsLooking(true)}>
            {startTexts.fromFolder}
          </button>
        </div>
        <input
          ref={input}
          type="file"
          multiple
          accept={KINDS}
          hidden
          aria-label={startTexts.choose}
          onChange={(event) => {
            take({ files: Array.from(event.currentTarget.files ?? []), folders: 0 });
            // The same file can be chosen again after it was taken off.
            event.currentTarget.value = '';
          }}
        />
        {known !== null && (
          <p class="legend">
            {known.loopback ? startTexts.stays : startTexts.staysThere}{' '}
            {startTexts.most(sizeWords(known.maxUploadBytes))}
          </p>
        )}
        <p class="fault choose-said" role="status">
          {said}
        </p>
      </section>
      {isLooking && known !== null && (
        <FolderDialog folders={known.folders} onClose={() => setIsLooking(false)} />
      )}
    </>
  );
}

/** Nothing is dropped where fingers point. */
function headingFor(isEmpty: boolean): string {
  const byFinger = matchMedia('(pointer:coarse)').matches;
  if (byFinger) return isEmpty ? startTexts.pick : startTexts.pickMore;
  return isEmpty ? startTexts.drop : startTexts.dropMore;
}
