/** The scrubber of the player: place in timecode, and marks of joints, bumps and the deciding frame above its line. */
import { timecodeAt, type TimecodeBase } from '../../../../report/in-browser.js';
import { playerTexts } from '../../../../texts/index.js';
import type { Playback } from './playback.js';
import type { ScrubMark } from './scrub-marks.js';

/** The scrubber. */
export function Scrubber({
  playback,
  clip,
  timeS,
  marks,
}: {
  readonly playback: Playback;
  readonly clip: TimecodeBase;
  readonly timeS: readonly number[];
  readonly marks: readonly ScrubMark[];
}) {
  const count = timeS.length;
  const frame = Math.min(playback.frame.value, Math.max(0, count - 1));
  const timecode = timecodeAt(clip, timeS[frame] ?? 0);
  const marked = (kind: ScrubMark['kind']): boolean => marks.some((mark) => mark.kind === kind);
  return (
    <div class="scrubber">
      <div class="scrub-line">
        <div class="scrub-marks" aria-hidden="true">
          {marks.map(({ kind, atS, share }) => (
            <span
              key={`${kind}${atS}`}
              class={kind}
              style={{ '--share': String(share) }}
              title={playerTexts.markAt(playerTexts.marks[kind], timecodeAt(clip, atS))}
            />
          ))}
        </div>
        <input
          type="range"
          min={0}
          max={Math.max(0, count - 1)}
          step={1}
          value={frame}
          disabled={count === 0}
          aria-label={playerTexts.scrubber}
          aria-valuetext={playerTexts.place(timecode, frame + 1, count)}
          onInput={({ currentTarget }) => {
            playback.goTo(Number(currentTarget.value));
            // Beyond the frames that are made the thumb waits at the last of them.
            currentTarget.value = String(playback.frame.peek());
          }}
        />
      </div>
      <p class="scrub-reading">
        <output class="timecode">{timecode}</output>
        <span class="muted">{playerTexts.frameOf(count === 0 ? 0 : frame + 1, count)}</span>
        {marks.length > 0 && (
          <span class="scrub-legend muted">
            {marked('bump') && playerTexts.legendBumps} {marked('deciding') && playerTexts.legendDeciding}
          </span>
        )}
      </p>
    </div>
  );
}
