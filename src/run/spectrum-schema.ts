/** The section of the run document on frequencies: spectra, bands, peaks, what shakes and why, what the camera hides. */
import { z } from 'zod';
import { AXES } from './axes.js';

const num = z.number();
const orNull = num.nullable();
const interval = z.tuple([num, num]);
const series = z.array(num);

/** What a source of shake may be. */
export const CAUSES = ['wheel', 'joint', 'machine', 'mount', 'lamp', 'unknown'] as const;
const cause = z.enum(CAUSES);

const seriesSchema = z.strictObject({ freqHz: series, psd: series, unit: z.string() });

/** One-third octave (IEC 61260-1, base ten), exact edges, nominal label. */
export const thirdOctaveSchema = z.strictObject({
  label: z.string(),
  centreHz: num,
  fromHz: num,
  toHz: num,
  /** Of the motion, noise taken off; null below the noise, then `belowRms` stands. */
  rms: orNull,
  ci95: interval.nullable(),
  belowRms: num,
  /** Share of the amplitude that the shutter lets through at the centre; figures are as seen. */
  exposureGain: num,
});

/** PSD over time, one row for each time, for one axis; in the axis' unit^2/Hz, to three digits. */
export const spectrogramSchema = z.strictObject({
  windowS: num,
  resolutionHz: num,
  /** Middle of each row, seconds of the clip; and where the dolly was then, null without travel. */
  timeS: series,
  placeM: series.nullable(),
  freqHz: series,
  axes: z.partialRecord(z.enum(AXES), z.array(series)),
});

export const peakSchema = z.strictObject({
  axis: z.enum(AXES),
  freqHz: num,
  ci95Hz: interval,
  widthHz: num,
  /** As seen, background taken off. */
  rms: num,
  rmsCi95: interval,
  unit: z.string(),
  prominenceDb: num,
  shape: z.enum(['line', 'resonance']),
  /** On the floor, for the frequency of the motion itself; null without speed. */
  wavelengthM: orNull,
  /** Of its source. */
  cause: cause,
  confidence: orNull,
  /** Place of its source in `sources`. */
  source: z.number().int(),
  mayBeRipple: z.boolean(),
});

const candidateSchema = z.strictObject({
  cause,
  order: z.number().int(),
  trueHz: num,
  probability: num,
});

export const sourceSchema = z.strictObject({
  freqHz: num,
  ci95Hz: interval,
  axes: z.array(z.enum(AXES)),
  shape: z.enum(['line', 'resonance']),
  /** RMS shift of the picture by this source as seen, px of the clip; sources that shift it most come first. */
  shiftPx: num,
  cause,
  confidence: orNull,
  /** Why no cause is named; null when one is. */
  reason: z.string().nullable(),
  candidates: z.array(candidateSchema),
  trueHz: num,
  /** Share of the amplitude that the shutter let through at `trueHz`. */
  exposureGain: num,
  /** RMS of the motion itself on the axis that shows it most; null where the shutter let too little through to tell. */
  trueRms: orNull,
  trueRmsAxis: z.enum(AXES),
  /** Every frequency up to the top of what was asked that frames would show here, lowest first. */
  couldBeHz: series,
  harmonic: z.strictObject({ family: z.number().int(), baseHz: num, order: z.number().int() }).nullable(),
  /** Probability of a constant wavelength, from how the speed varied in this pass; null when it did not vary enough. */
  followsTravel: orNull,
  sound: z.strictObject({ trueHz: num, kind: z.enum(['tone', 'beat']), probability: num }).nullable(),
  otherRun: z
    .strictObject({
      otherHz: orNull,
      behaves: z.enum(['constantFrequency', 'constantWavelength', 'neither', 'open']),
      probability: orNull,
      /** Frequency of the motion itself, where both runs agree on one that frames folded. */
      trueHz: orNull,
      reason: z.string().nullable(),
    })
    .nullable(),
  /** Largest bend of an upright line within one frame by this shake as seen, px of the clip; null without a readout. */
  wobblePx: orNull,
});

export const spectrumSchema = z.strictObject({
  method: z.string(),
  resolutionHz: num,
  noiseBandwidthHz: num,
  degreesOfFreedom: num,
  ci95Factors: interval,
  nyquistHz: num,
  /** Mean speed under way that causes were read against; null when it is not known. */
  speedMps: orNull,
  series: z.partialRecord(z.enum(AXES), seriesSchema),
  noiseFloor: z.partialRecord(z.enum(AXES), num),
  /** The level without peaks that peaks stand out of. */
  background: z.partialRecord(z.enum(AXES), seriesSchema),
  thirdOctaves: z.partialRecord(z.enum(AXES), z.array(thirdOctaveSchema)),
  spectrogram: spectrogramSchema.nullable(),
  peaks: z.array(peakSchema),
  sources: z.array(sourceSchema),
  /** Of 100 passes over a floor alone that many show a false peak on an axis that was searched so; null without such an axis. */
  falsePeaks: z.strictObject({ inHundred: num, axes: z.array(z.enum(AXES)) }).nullable(),
  /** Speed that the sources speak for; never used by any figure. */
  suggestedSpeed: z
    .strictObject({
      mps: num,
      ci95Mps: interval,
      givenMps: num,
      confidence: num,
      fromSources: z.number().int(),
    })
    .nullable(),
  /** Null when the clip has no sound or it was not usable (`reason` then says why). */
  sound: z
    .strictObject({
      used: z.boolean(),
      reason: z.string().nullable(),
      levelDb: orNull,
      lines: z.array(z.strictObject({ freqHz: num, kind: z.enum(['tone', 'beat']), strength: num })),
    })
    .nullable(),
  /** Light that flickers: the lamp's own frequency and where frames show it. */
  flicker: z.strictObject({ lampHz: num, seenHz: num, depthPercent: num, inBands: z.boolean() }).nullable(),
  /** Name of the other run that sources were compared with; null when none was. */
  comparedWith: z.strictObject({ name: z.string(), speedMps: orNull }).nullable(),
  notes: z.array(z.string()),
});
