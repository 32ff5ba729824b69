/** Time left in steps that people can read without the figure dancing, from seconds that are estimated anew all the time. */
import type { SpokenTime } from '../../../texts/index.js';

const MINUTE_S = 60;
const HOUR_S = 3600;

/** Seconds that a shown time is stepped by: 5 s under a minute, 10 s under ten, then minutes, then five of them. */
function stepOf(leftS: number): number {
  if (leftS <= MINUTE_S) return 5;
  if (leftS <= 10 * MINUTE_S) return 10;
  return leftS <= HOUR_S ? MINUTE_S : 5 * MINUTE_S;
}

/**
 * The time to show: rounded up to its step, and the one that is shown already as long as the new estimate lies within a step of it.
 * @param shownS null at first
 */
export function steadyLeft(shownS: number | null, leftS: number): number {
  if (leftS <= 0) return 0;
  const step = stepOf(leftS);
  if (shownS !== null && Math.abs(leftS - shownS) < step) return shownS;
  return Math.ceil(leftS / step - 1e-9) * step;
}

/** Its parts: seconds under ten minutes only. */
export function spokenTime(shownS: number): SpokenTime {
  return {
    hours: Math.floor(shownS / HOUR_S),
    minutes: Math.floor((shownS % HOUR_S) / MINUTE_S),
    seconds: shownS < 10 * MINUTE_S ? shownS % MINUTE_S : 0,
  };
}
