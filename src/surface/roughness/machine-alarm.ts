/**
 * Signs that a machine, not the floor, shakes the deck: power in the notches of the wheelbase, where a floor can make none, and too
 * many narrow lines.
 */
import { median } from '../../numerics/index.js';
import { roughnessTexts } from '../../texts/index.js';
import { fittedSpectrum } from './floor-fit.js';
import type { FittedPass } from './pass-fit.js';

/** Largest share of the band that lines may take. */
const MOST_MASKED = 0.25;
/**
 * Power in the notches over power between them, each over its expectation. Own trials: clean floors read 0.6 to 1.4, floors cleaned of
 * joints up to 1.6, white shake of 10 mdeg on a class A-2 floor 2.0 to 2.9 at 0.5 m/s.
 */
const NOTCH_ALARM = 1.8;
/** Bins count as in a notch, or between, by |sin(pi n L)|. */
const IN_NOTCH = 0.25;
const BETWEEN_NOTCHES = 0.7;
/** Notches must be at least this many bins apart to be told from the rest. */
const NOTCH_BINS = 8;

/** A plain sentence when a machine shakes the deck, so that the grade is an upper bound only; null otherwise. */
export function machineAlarm(pass: FittedPass): string | null {
  if (pass.masked.maskedShare > MOST_MASKED) {
    return roughnessTexts.notOfAFloor((100 * pass.masked.maskedShare).toFixed(0));
  }
  const ratio = notchRatio(pass);
  if (ratio !== null && ratio > NOTCH_ALARM) {
    return roughnessTexts.fillsNotches(ratio.toFixed(1));
  }
  return null;
}

/**
 * Measured over expected pitch power in the notches, over the same between them: middle values over the whole band, since shake that
 * fills a notch looks like a line in it, and a tone is one bin of many. Null without pitch, or when the pass is too short to tell.
 */
export function notchRatio(pass: FittedPass): number | null {
  const { settings, channels, table, freqHz, band, masked } = pass;
  const { frameCount, rateHz, dolly } = settings;
  if ((frameCount / rateHz) * middleSpeedMps(settings) < NOTCH_BINS * dolly.wheelbaseM) return null;
  const pitch = channels.find(({ channel }) => channel === 'pitch');
  if (pitch === undefined) return null;
  const expected = fittedSpectrum(pitch, table, masked.fit);
  const inNotch: number[] = [];
  const between: number[] = [];
  for (let i = 0; i < freqHz.length; i++) {
    if (band[i] === 0) continue;
    const depth = notchDepth(pass, freqHz[i]);
    if (depth < IN_NOTCH) inNotch.push(pitch.psd[i] / expected[i]);
    else if (depth > BETWEEN_NOTCHES) between.push(pitch.psd[i] / expected[i]);
  }
  if (inNotch.length === 0 || between.length === 0) return null;
  return median(Float64Array.from(inNotch)) / median(Float64Array.from(between));
}

/** Whether a floor makes next to no pitch at a frequency, Hz, because the wheelbase holds whole waves of it. */
export function isInNotch(pass: Pick<FittedPass, 'settings' | 'phaseScale'>, freqHz: number): boolean {
  return notchDepth(pass, freqHz) < IN_NOTCH;
}

/** |sin(pi n L)|: 0 in the middle of a notch, 1 between two. */
function notchDepth(
  { settings, phaseScale }: Pick<FittedPass, 'settings' | 'phaseScale'>,
  freqHz: number,
): number {
  const waves = (freqHz * settings.dolly.wheelbaseM * phaseScale) / middleSpeedMps(settings);
  return Math.abs(Math.sin(Math.PI * waves));
}

function middleSpeedMps({ speedsMps }: FittedPass['settings']): number {
  return speedsMps[Math.floor(speedsMps.length / 2)];
}
