/**
 * How the sources of one run behave in another run at another speed: what keeps its frequency is a machine or a mount, what keeps its
 * wavelength comes from the floor or from what rolls. Own derivation.
 */
import { figure } from '../../run/index.js';
import { otherRunTexts } from '../../texts/index.js';
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
    return { ...open, reason: otherRunTexts.speedUnknown };
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
  if (apart < TOO_NEAR) return otherRunTexts.speedsTooNear(apart.toFixed(2), FAR_ENOUGH);
  const shared = Math.min(constant, wave) > (1 - SAY_ABOVE) / 2;
  return shared ? otherRunTexts.fitsBoth(figure(otherHz)) : otherRunTexts.byChance(figure(otherHz));
}

function alone(source: ShakeSource, free: readonly PairFit[], here: RunWindow, other: OtherRun): RunToRun {
  const nobody = { otherHz: null, behaves: 'open', probability: null, trueHz: null } as const;
  const speeds = speedRatio(here, other);
  const at = figure(source.freqHz);
  if (!speeds) return { ...nobody, reason: otherRunTexts.noPeakNoSpeed(at) };
  const expectedHz = source.freqHz * speeds.ratio;
  const vanished = whyVanished(source, expectedHz, other);
  if (vanished !== null) return { ...nobody, reason: vanished };
  const near = free.reduce((sum, { constant, wave, chance }) => sum + (constant + wave) / chance, 0);
  const probability = 1 / (1 + near);
  if (probability <= SAY_ABOVE)
    return {
      ...nobody,
      reason: otherRunTexts.fitsBadly,
    };
  const reason = otherRunTexts.gone(at, figure(expectedHz));
  return { otherHz: null, behaves: 'neither', probability: Math.min(probability, CAP), trueHz: null, reason };
}
