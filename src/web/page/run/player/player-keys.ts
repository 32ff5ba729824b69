/** The keys of the player: those that editors know. */
import type { Signal } from '@preact/signals';
import { playerTexts } from '../../../../texts/index.js';
import { useKeys } from '../../keys.js';
import type { Playback } from './playback.js';

/** What is shown of the clip. */
export type ShownView = 'shot' | 'stabilised' | 'both';

/** The views in the order of their number keys. */
export const SHOWN_VIEWS: readonly ShownView[] = ['shot', 'stabilised', 'both'];

/** Binds them while the player is there. @param hasViews whether there is more to show than the clip as shot */
export function usePlayerKeys(playback: Playback, shown: Signal<ShownView>, hasViews: boolean): void {
  const views = hasViews
    ? SHOWN_VIEWS.map((view, i) => ({
        key: String(i + 1),
        what: playerTexts[view],
        run: () => {
          shown.value = view;
        },
      }))
    : [];
  useKeys([
    { key: ' ', what: playerTexts.playOrStop, run: () => playback.toggle() },
    { key: 'k', what: playerTexts.playOrStop, run: () => playback.toggle() },
    { key: 'j', what: playerTexts.shuttleBack, run: () => playback.shuttle(-1) },
    { key: 'l', what: playerTexts.shuttleOn, run: () => playback.shuttle(1) },
    { key: 'ArrowLeft', what: playerTexts.back, run: () => playback.step(-1) },
    { key: 'ArrowRight', what: playerTexts.on, run: () => playback.step(1) },
    { key: 'Home', what: playerTexts.toStart, run: () => playback.goTo(0) },
    { key: 'End', what: playerTexts.toEnd, run: () => playback.goTo(playback.count - 1) },
    ...views,
  ]);
}
