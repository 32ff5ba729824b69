/** Whether the rows of the picture speak against the readout that was given for the sensor; seconds. */
import type { ReadoutClip } from '../rolling-shutter/correct-readout.js';
import { largestEffect } from '../rolling-shutter/readout-effect.js';
import { searchReadout } from '../rolling-shutter/readout-search.js';
import type { Scene } from '../scene.js';

/** A readout that the rows speak for, though another was given. */
export interface ReadoutAgainst {
  readonly givenS: number;
  /** What they speak for, 95 % interval; from 0 on where they show none. */
  readonly ci95S: readonly [number, number];
}

/** Below this share of the cost a readout cannot matter, whatever it is, and is not looked for. */
const NO_EFFECT = 0.01;
/** A readout that lies this far outside the interval is spoken against: as a time, and as a share of the end of the interval. */
const OUTSIDE_S = 0.002;
const OUTSIDE_SHARE = 0.15;
/** An interval wider than this speaks against nothing. */
const VAGUE_S = 0.012;

/**
 * Looks for the readout as if none had been given. The scene is not changed.
 *
 * @param scene adjusted to the observations as measured
 * @returns null when the clip bears the readout out, or tells too little of it
 */
export function readoutSpokenAgainst(
  clip: ReadoutClip,
  scene: Scene,
  givenS: number,
  { rateHz, cutoffHz }: { readonly rateHz: number; readonly cutoffHz: number },
): ReadoutAgainst | null {
  if (largestEffect(clip, scene, rateHz, cutoffHz) < NO_EFFECT) return null;
  const { found, ci95S } = searchReadout(clip, scene, rateHz, cutoffHz);
  const [lowS, highS] = ci95S;
  if (highS - lowS > VAGUE_S) return null;
  const below = found && givenS < (1 - OUTSIDE_SHARE) * lowS - OUTSIDE_S;
  const above = givenS > (1 + OUTSIDE_SHARE) * highS + OUTSIDE_S;
  return below || above ? { givenS, ci95S } : null;
}
