/** Why a peak of constant wavelength may not show at another speed, in hertz and m/s. */
import { figure } from '../../run/index.js';
import { otherRunTexts } from '../../texts/index.js';
import type { RunWindow, ShakeSource } from './types.js';

/** Within this share of the way from one null to the next, less than a tenth of the power is left. */
const NULL_SHARE = 0.1;
/** Nulls nearer than this many times 1 / T are not told apart. */
const APART_BINS = 3;

/**
 * The places at which both axles cancel: the pitch at k v / L, the heave half-way between them.
 *
 * @returns null where it would show; else a plain sentence
 */
export function whyVanished(source: ShakeSource, expectedHz: number, other: RunWindow): string | null {
  const [low, high] = other.bandHz;
  const hidden = (end: string): string => otherRunTexts.hidden(figure(expectedHz), end);
  if (expectedHz < low) return hidden(otherRunTexts.belowSearch(figure(low)));
  if (expectedHz > high) return hidden(otherRunTexts.pastFrames(figure(high)));
  if (other.speedMps === null || other.wheelbaseM === null) return null;
  const stepHz = other.speedMps / other.wheelbaseM;
  if (stepHz < APART_BINS / other.durationS) return null;
  const heaves = source.sightings.every(({ axis }) => axis === 'vertical');
  const phase = expectedHz / stepHz - (heaves ? 0.5 : 0);
  const nearest = Math.round(phase);
  if (nearest < (heaves ? 0 : 1) || Math.abs(phase - nearest) > NULL_SHARE) return null;
  return hidden(otherRunTexts.axlesCancel);
}
