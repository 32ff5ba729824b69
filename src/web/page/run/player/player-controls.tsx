/** Buttons of the player: play and stop, a frame back and on, speed, view. */
import type { Signal } from '@preact/signals';
import { playerTexts } from '../../../../texts/index.js';
import { SPEEDS, frameShownAt, type Playback } from './playback.js';
import { SHOWN_VIEWS, type ShownView } from './player-keys.js';

/** The buttons. @param shown the view that is chosen; null where there is only one */
export function PlayerControls({
  playback,
  shown,
  timeS,
  made,
  decidingS,
}: {
  readonly playback: Playback;
  readonly shown: Signal<ShownView> | null;
  readonly timeS: readonly number[];
  /** Frames that can be shown so far. */
  readonly made: number;
  readonly decidingS: number | null;
}) {
  const plays = playback.rate.value !== 0;
  const none = made === 0;
  // Stamps of frames and samples differ by less than half a frame.
  const deciding = decidingS === null || none ? null : nearest(timeS, decidingS);
  return (
    <div class="player-controls">
      <div class="transport">
        <button type="button" class="main" disabled={none} onClick={() => playback.toggle()}>
          {plays ? playerTexts.stop : playerTexts.play}
        </button>
        <button type="button" disabled={none} onClick={() => playback.step(-1)}>
          {playerTexts.back}
        </button>
        <button type="button" disabled={none} onClick={() => playback.step(1)}>
          {playerTexts.on}
        </button>
      </div>
      <div class="choice" role="group" aria-label={playerTexts.speed}>
        <span aria-hidden="true">{playerTexts.speed}</span>
        {SPEEDS.map((speed) => (
          <button
            key={speed}
            type="button"
            aria-pressed={playback.speed.value === speed}
            onClick={() => playback.setSpeed(speed)}
          >
            {playerTexts.speeds[speed]}
          </button>
        ))}
      </div>
      {shown !== null && (
        <div class="choice" role="group" aria-label={playerTexts.views}>
          <span aria-hidden="true">{playerTexts.views}</span>
          {SHOWN_VIEWS.map((view) => (
            <button
              key={view}
              type="button"
              aria-pressed={shown.value === view}
              onClick={() => {
                shown.value = view;
              }}
            >
              {playerTexts[view]}
            </button>
          ))}
        </div>
      )}
      {deciding !== null && (
        <button
          type="button"
          class="quiet"
          disabled={deciding >= made}
          onClick={() => {
            playback.stop();
            playback.goTo(deciding);
          }}
        >
          {playerTexts.toDeciding}
        </button>
      )}
    </div>
  );
}

/** The frame whose stamp is nearest to a moment. */
function nearest(timeS: readonly number[], atS: number): number {
  const before = frameShownAt(timeS, atS);
  const after = Math.min(before + 1, timeS.length - 1);
  return Math.abs(timeS[after] - atS) < Math.abs(timeS[before] - atS) ? after : before;
}
