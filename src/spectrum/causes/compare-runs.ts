/**
 * How the sources of one run behave in another run at another speed: what keeps its frequency is a machine or a mount, what keeps its
 * wavelength comes from the floor or from what rolls. Own derivation.
 */
import { figure } from '../../run/index.js';
import { bestMatching } from './best-matching.js';
import { pairFit, speedRatio, type PairFit } from './run-pairs.js';
import type { OtherRun, RunToRun, RunWindow, ShakeSource } from './types.js';
import { whyVanished } from './vanished-wave.js';

/** Said above this, else open. */
const SAY_ABOVE = 0.9;
const CAP = 0.95;
/** Speeds nearer than this leave much open; further apart than the second hardly anything. */
const TOO_NEAR = 1.1;
const FAR_ENOUGH = 1.2;
/** A true frequency is told when it carries this much of the fit. */
const TRUE_SHARE = 0.9;

/**
 * Pairs the sources of both runs one to one for the best fit of all, then weighs each pair; a source without a partner is looked for
 * where it should be, and what would hide it there is said before it is called gone.
 *
 * Measured on simulated lines of strength 15 and more, speeds 1.2 apart: see `tests/spectrum/causes/compare-runs.test.ts`.
 *
 * @param here the run of `sources`
 * @returns one for each source, in their order
 */
export function compareRuns(sources: readonly ShakeSource[], here: RunWindow, other: OtherRun): RunToRun[] {
  const fits = sources.map((source) =>
    other.sources.map((partner) => pairFit(source, partner, here, other, other.sources.length)),
  );
  const gains = fits.map((row) =>
    row.map(({ constant, wave, chance }) => Math.log((constant + wave) / chance)),
  );
  const matched = bestMatching(gains);
  const free = other.sources.map((_, j) => !matched.includes(j));
  return sources.map((source, i) => {
    const partner = matched[i];
    return partner === null
      ? alone(
          source,
          fits[i].filter((_, j) => free[j]),
          here,
          other,
        )
      : paired(fits[i][partner], other.sources[partner].freqHz, here, other);
  });
}

function paired(fit: PairFit, otherHz: number, here: RunWindow, other: OtherRun): RunToRun {
  const total = fit.constant + fit.wave + fit.chance;
  const [constant, wave] = [fit.constant / total, fit.wave / total];
  const open = { otherHz, behaves: 'open', probability: null, trueHz: null } as const;
  const speeds = speedRatio(here, other);
  if (!speeds) {
    const reason =
      'The speed of one of the runs is not known: what keeps its frequency cannot be told from what keeps its wavelength.';
    return { ...open, reason };
  }
  const said = constant > SAY_ABOVE ? 'constantFrequency' : wave > SAY_ABOVE ? 'constantWavelength' : null;
  if (said === null) return { ...open, reason: whyOpen(constant, wave, speeds.ratio, otherHz) };
  const { trueHz, share } = said === 'constantFrequency' ? fit.constantHz : fit.waveHz;
  return {
    otherHz,
    behaves: said,
    probability: Math.min(Math.max(constant, wave), CAP),
    trueHz: share > TRUE_SHARE ? trueHz : null,
    reason: null,
  };
}

function whyOpen(constant: number, wave: number, ratio: number, otherHz: number): string {
  const apart = Math.max(ratio, 1 / ratio);
  if (apart < TOO_NEAR)
    return `The two speeds are only ${apart.toFixed(2)} times apart: ${FAR_ENOUGH} times or more are needed.`;
  const shared = Math.min(constant, wave) > (1 - SAY_ABOVE) / 2;
  return shared
    ? `The peak at ${figure(otherHz)} Hz of the other run fits a constant frequency as well as a constant wavelength.`
    : `The peak at ${figure(otherHz)} Hz of the other run may be another source that stands there by chance.`;
}

function alone(source: ShakeSource, free: readonly PairFit[], here: RunWindow, other: OtherRun): RunToRun {
  const nobody = { otherHz: null, behaves: 'open', probability: null, trueHz: null } as const;
  const speeds = speedRatio(here, other);
  const at = figure(source.freqHz);
  if (!speeds)
    return { ...nobody, reason: `The other run shows no peak at ${at} Hz, and a speed is not known.` };
  const expectedHz = source.freqHz * speeds.ratio;
  const vanished = whyVanished(source, expectedHz, other);
  if (vanished !== null) return { ...nobody, reason: vanished };
  const near = free.reduce((sum, { constant, wave, chance }) => sum + (constant + wave) / chance, 0);
  const probability = 1 / (1 + near);
  const expected = `${at} Hz (same frequency) nor at ${figure(expectedHz)} Hz (same wavelength)`;
  if (probability <= SAY_ABOVE)
    return {
      ...nobody,
      reason: `The peaks of the other run fit it too badly to be its own, too well to rule them out.`,
    };
  const reason = `The other run shows no peak at ${expected}: gone, or too weak there.`;
  return { otherHz: null, behaves: 'neither', probability: Math.min(probability, CAP), trueHz: null, reason };
}
