/**
 * Signs that a machine, not the floor, shakes the deck: power in the notches of the wheelbase, where a floor can make none, and too
 * many narrow lines.
 */
import { fittedSpectrum } from './floor-fit.js';
import type { FittedPass } from './pass-fit.js';

/** Largest share of the band that lines may take. */
const MOST_MASKED = 0.25;
/** Power in the notches over power between them, each over its expectation; clean floors read 0.8-1.8. */
const NOTCH_ALARM = 2;
/** Bins count as in a notch, or between, by |sin(pi n L)|. */
const IN_NOTCH = 0.25;
const BETWEEN_NOTCHES = 0.7;
/** Notches must be at least this many bins apart to be told from the rest. */
const NOTCH_BINS = 8;

/** A plain sentence when a machine shakes the deck, so that the grade is an upper bound only; null otherwise. */
export function machineAlarm(pass: FittedPass): string | null {
  if (pass.masked.maskedShare > MOST_MASKED) {
    return `In ${(100 * pass.masked.maskedShare).toFixed(0)} % of the spectrum the shake is none that a floor makes (a machine, or more noise than stated), so the floor can only be bounded: switch motors and fans off, or part the camera from them.`;
  }
  const ratio = notchRatio(pass);
  if (ratio !== null && ratio > NOTCH_ALARM) {
    return `The pitch holds ${ratio.toFixed(1)} times the power that a floor can make at wavelengths that fit the wheelbase, so something else shakes the camera and the floor can only be bounded: stiffen the mount, switch motors off, or check wheelbase and speed.`;
  }
  return null;
}

/**
 * Mean measured over expected pitch power in the notches, over the same between them; null without pitch, or when the pass is too
 * short to tell.
 */
export function notchRatio({
  settings,
  phaseScale,
  channels,
  table,
  freqHz,
  masked,
}: FittedPass): number | null {
  const { frameCount, rateHz, dolly } = settings;
  const speedMps = middleSpeedMps(settings);
  if ((frameCount / rateHz) * speedMps < NOTCH_BINS * dolly.wheelbaseM) return null;
  const pitch = channels.find(({ channel }) => channel === 'pitch');
  if (pitch === undefined) return null;
  const expected = fittedSpectrum(pitch, table, masked.fit);
  const kept = masked.kept.get('pitch')!;
  const sums = { notch: 0, notchBins: 0, between: 0, betweenBins: 0 };
  for (let i = 0; i < freqHz.length; i++) {
    if (kept[i] === 0) continue;
    const depth = notchDepth({ settings, phaseScale }, freqHz[i]);
    const ratio = pitch.psd[i] / expected[i];
    if (depth < IN_NOTCH) {
      sums.notch += ratio;
      sums.notchBins++;
    } else if (depth > BETWEEN_NOTCHES) {
      sums.between += ratio;
      sums.betweenBins++;
    }
  }
  if (sums.notchBins === 0 || sums.betweenBins === 0) return null;
  return sums.notch / sums.notchBins / (sums.between / sums.betweenBins);
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
