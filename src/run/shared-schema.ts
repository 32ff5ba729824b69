/** Pieces that several documents share: ranges, statuses, codes, densities, and what their fields say. */
import { z } from 'zod';
import { AXES } from './axes.js';

const num = z.number();
const orNull = num.nullable();
const interval = z.tuple([num, num]);

/** What a field named code says. */
export const CODE_SAYS = 'Short name that stays the same from version to version, for programs.';
/** The words of a verdict. */
export const GRADE_SAYS = 'pass, marginal (a limit lies within the 95 % range), fail or unmeasurable.';
/** True or false for every crop. */
export const COVERABLE_SAYS = 'False when a frame needs more than half of the width: no shot to stabilise.';
/** One axis, as enums of axes are described. */
export const AXIS_NAMES_SAY = 'pan, tilt, roll, lateral, vertical or axial';

/** The program that wrote a document. */
export const toolSchema = z.strictObject({
  version: z.string().describe('Version of the program.'),
  commit: z.string().nullable().describe('Commit that it was built from; null when not known.'),
});

/** A value with the ends of its range. */
export const rangedSchema = z.strictObject({
  value: num.describe('The likeliest value.'),
  low: num.describe('Lower end of its 95 % range.'),
  high: num.describe('Upper end of its 95 % range.'),
});

/** How far a figure may be trusted: a value, a bound, or nothing. */
export const statusSchema = z
  .enum(['value', 'wide', 'below', 'notObservable'])
  .describe(
    'value: rms stands; wide: rms with a wide interval; below: only the bound stands; notObservable: nothing stands.',
  );

/** A power spectral density. */
export const densitySchema = z.strictObject({
  freqHz: z.array(num).describe('Frequencies, Hz, rising.'),
  psd: z.array(num).describe('One-sided density at each frequency, in unit.'),
  unit: z
    .string()
    .describe('Unit of psd: deg^2/Hz, mm^2/Hz or percent^2/Hz (per cent of the median distance).'),
});

/** One thing to change for the next pass. */
export const changeSchema = z.strictObject({
  code: z.string().describe(CODE_SAYS),
  text: z.string().describe('What to change, a plain sentence.'),
});

/** Why turning and translation could not be told apart. */
export const unsplitCauseSchema = z
  .enum(['flatScene', 'noTravel', 'shortTracks'])
  .describe(
    'Why: flatScene (all is about as far away), noTravel (the camera moved too little) or shortTracks (points were seen too shortly).',
  );

const sourceSchema = z
  .enum(['given', 'found', 'none'])
  .describe('Where it comes from: given (by the crew), found (in the clip) or none (not known).');
const state = z.enum(['corrected', 'notNeeded', 'notMeasurable']);

/** What is told alike of a readout time by every document. */
export const readoutFields = {
  source: sourceSchema,
  state: state.describe(
    'corrected: the figures are freed of it; notNeeded: no readout that is possible here could matter; notMeasurable: one could, but none stands out.',
  ),
  costFall: orNull.describe(
    'Relative fall of the cost of the fit when motion within the frames is modelled, 0..1; null when not looked for.',
  ),
};

/** What is told alike of the distortion of a lens by every document. */
export const distortionFields = {
  source: sourceSchema,
  k1: orNull.describe(
    "k1 of Brown and Conrady's model, points over the focal length; no unit; null when not known.",
  ),
  ci95: interval.nullable().describe('95 % interval of a k1 that was looked for; null where there is none.'),
  state: state.describe(
    'corrected: the figures are freed of it; notNeeded: no k1 that is possible here could matter; notMeasurable: one could, but none stands out (source none), or the strongest that is possible is not enough (source found).',
  ),
  costFall: orNull.describe(
    'Relative fall of the cost of the fit when lines may bend, 0..1; null when not looked for, or nothing fits without.',
  ),
};

/** Axes whose figures should not be relied upon. */
export const unreliableSchema = z
  .array(
    z.strictObject({
      axis: z.enum(AXES).describe(`The axis: ${AXIS_NAMES_SAY}.`),
      reason: z.string().describe('Why its figure should not be relied upon, a plain sentence.'),
    }),
  )
  .describe('Axes whose figures should not be relied upon, and why.');

/** Share of the shake that is angular. */
export const angularShareSchema = z
  .strictObject({
    value: orNull.describe('The share, 0..1; null when unknown.'),
    ci95: interval.nullable().describe('95 % interval of the share; null when unknown.'),
  })
  .describe('Share of the image vibration energy that is angular, 0..1.');
