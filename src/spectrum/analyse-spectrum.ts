/**
 * Spectra of the six axes of a measured vibration, what shakes at each of their peaks and what the camera hides; SI units.
 *
 * Density, bands and peaks of each axis -> peaks of all axes at one frequency are one source -> a cause for each, read against rig,
 * floor and light -> what shutter, frame rate, sound and another run say of it.
 */
import type { Motion } from '../motion/index.js';
import { AXES, type Axis } from '../run/index.js';
import { spectrumMethodTexts } from '../texts/index.js';
import { travelOf } from '../surface/index.js';
import { knownCauses, speedSdShare } from './causes/known-causes.js';
import { nameCauses } from './causes/name-causes.js';
import type { ObservedBand, Sighting } from './causes/types.js';
import { compareRuns } from './causes/compare-runs.js';
import { dominantFrequencyHz } from './dominant-frequency.js';
import { axisSpectrum } from './axis-spectrum.js';
import { intervalFactors, type WelchSpectrum } from './estimate/welch.js';
import { floorViewOf } from './peaks/floor-view.js';
import { seenSource } from './seen-source.js';
import { flickerOfClip } from './shutter/flicker-of-clip.js';
import { shutterNotes } from './shutter/shutter-notes.js';
import { listen } from './sound/listen.js';
import type { AxisSpectrum, Spectrum, SpectrumContext } from './types.js';

/** Peaks are looked for up to this share of the rate, because the spectrum mirrors at Nyquist. */
const HIGHEST_SHARE = 0.48;

/**
 * Analyses the vibration of every axis that was observable.
 *
 * A series of fewer than 8 samples gives no axes and a resolution as wide as the band; passes too short to name a cause say so with each
 * source. Nothing here changes a figure of the motion: the speed that causes speak for is a suggestion.
 *
 * @param motion not changed
 */
export function analyseSpectrum(motion: Motion, context: SpectrumContext): Spectrum {
  const { rateHz, bandHz, timeS } = motion;
  const { rig, surface, exposureS, sound, otherRun } = context;
  const pass = surface?.pass ?? null;
  const travel = pass?.travel ?? travelOf(motion, rig);
  const speedMps = travel?.speedMps ?? null;

  // Each axis by itself.
  const axes: Partial<Record<Axis, AxisSpectrum>> = {};
  const dominantHz: Partial<Record<Axis, number | null>> = {};
  let shape: WelchSpectrum | null = null;
  for (const axis of AXES) {
    const found = axisSpectrum(
      motion,
      axis,
      travel,
      floorViewOf(axis, pass, rig.cameraHeightM === undefined ? {} : { cameraHeightM: rig.cameraHeightM }),
    );
    if (found === null) continue;
    shape ??= found.estimate;
    axes[axis] = found.spectrum;
    dominantHz[axis] = dominantFrequencyHz(found.spectrum, bandHz, found.estimate.degreesOfFreedom);
  }
  const sightings = AXES.flatMap((axis) =>
    (axes[axis]?.finding.peaks ?? []).map((peak): Sighting => ({ axis, peak })),
  );

  // All axes together: what shakes, and why.
  const frames = travel === null ? timeS.length : travel.toFrame - travel.fromFrame;
  const band: ObservedBand = {
    durationS: frames / rateHz,
    rateHz,
    bandHz: [bandHz[0], HIGHEST_SHARE * rateHz],
    exposureS,
  };
  const { flicker, lampsHz } = flickerOfClip(motion, context, sightings);
  const row = surface?.detail?.row ?? null;
  const known = knownCauses(rig, speedMps, row, lampsHz);
  const named = nameCauses(sightings, known, band);

  // What the camera hides of it, and what sound and another run add.
  const heard = sound && listen(sound, timeS[0], timeS[timeS.length - 1]);
  const behaves =
    otherRun &&
    compareRuns(
      named.sources,
      { ...band, speedMps, speedSdShare: speedSdShare(rig), wheelbaseM: rig.wheelbaseM ?? null },
      otherRun,
    );
  const sources = named.sources
    .map((source, i) => seenSource(source, { motion, band, heard, otherRun: behaves?.[i] ?? null }))
    .sort((a, b) => b.shiftPx - a.shiftPx);

  return {
    method: shape ? describe(shape, rateHz) : spectrumMethodTexts.none,
    resolutionHz: shape?.resolutionHz ?? rateHz / 2,
    noiseBandwidthHz: shape?.noiseBandwidthHz ?? rateHz / 2,
    degreesOfFreedom: shape?.degreesOfFreedom ?? 2,
    ci95Factors: shape?.ci95Factors ?? intervalFactors(2),
    nyquistHz: rateHz / 2,
    exposureS,
    translationUnit: motion.translationUnit,
    speedMps,
    axes,
    dominantHz,
    sources,
    suggestedSpeed: named.speed,
    flicker,
    heard,
    comparedWith: otherRun,
    notes: [
      ...named.notes,
      ...shutterNotes({
        rateHz,
        exposureS,
        isAssumed: rig.shutterAngleDeg === undefined,
        fastestHz: sources.length > 0 ? Math.max(...sources.map(({ trueHz }) => trueHz)) : null,
      }),
    ],
  };
}

function describe(s: WelchSpectrum, rateHz: number): string {
  if (s.method === 'sineTapers') return spectrumMethodTexts.sineTapers(s.segments);
  return spectrumMethodTexts.welch(s.segments, (s.segmentSamples / rateHz).toFixed(2));
}
