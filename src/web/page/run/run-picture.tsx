/** What there is to see of a run: its clip to play, or the frame that was kept, with a way to point at the clip. */
import { runViewTexts, findClipTexts, playerTexts } from '../../../texts/index.js';
import type { StoredRun } from '../../api.js';
import { ProblemNote } from '../parts/problem-note.js';
import { FindClip } from './find-clip.js';
import type { PlayedView } from './player/frame-mesh.js';
import { useFramePack } from './player/frame-pack.js';
import { Player } from './player/player.js';
import { StillPicture } from './player/still-picture.js';

/** The picture. @param props.view null where no window can be drawn, or not yet */
export function RunPicture({
  stored,
  view,
  onClipFound,
}: {
  readonly stored: StoredRun;
  readonly view: PlayedView | null;
  readonly onClipFound: () => void;
}) {
  const { run, series, row } = stored;
  const { pack, problem, take } = useFramePack(row.id, series !== null);
  const { widthPx, heightPx, file } = run.clip;
  if (pack !== null && pack.count > 0 && (pack.state === 'ready' || pack.state === 'making'))
    return (
      <div class="run-picture">
        <Player
          id={row.id}
          run={run}
          view={view}
          stabilises={series !== null && run.verdict.grade !== 'unmeasurable'}
          pack={pack}
        />
      </div>
    );
  const away = pack?.state === 'missing' || pack?.state === 'failed';
  return (
    <div class="run-picture">
      <StillPicture
        id={row.id}
        view={view}
        atS={series?.frame?.atS ?? run.stabilise.worstFrameS}
        shape={heightPx / widthPx}
      />
      {away ? (
        <>
          <p class="note">
            {pack.state === 'missing' ? findClipTexts.missing(file) : playerTexts.failed}{' '}
            {pack.state === 'failed' && pack.reason}
          </p>
          {pack.state === 'missing' && (
            <FindClip
              id={row.id}
              onFound={(found) => {
                take(found);
                onClipFound();
              }}
            />
          )}
        </>
      ) : problem !== null ? (
        <ProblemNote problem={problem} />
      ) : series === null ? null : (
        <p class="player-notes" role="status">
          {pack === null ? runViewTexts.loading : playerTexts.making(0, pack.timeS.length || null)}
        </p>
      )}
    </div>
  );
}
