/**
 * What a measured pass would cost and leave under other conditions, schema "trundle-what-if/1": the pass as measured beside the
 * pass as asked for, and tables over lenses, speeds, deliveries, smoothings and wheelbases.
 */
import { z } from 'zod';
import { predictedOutcomeSchema, runSchema, verdictSchema } from './document.js';
import { passSheetSchema } from './pass-schema.js';

/** Format and version of an answer. */
export const WHAT_IF_SCHEMA = 'trundle-what-if/1';

const num = z.number();
const orNull = num.nullable();
const ranged = z.strictObject({ value: num, low: num, high: num });
const mode = z.enum(['keepMove', 'holdStill', 'smoothest']);

/** One case of a table: what it would cost and leave, or why nobody can tell. */
const rowSchema = z.strictObject({
  /** The case in which the pass was shot. */
  measured: z.boolean(),
  /** The case that was asked for; that of the pass where nothing was. */
  asked: z.boolean(),
  /** Null when it cannot be foretold. */
  outcome: predictedOutcomeSchema.nullable(),
  /** Why not, a plain sentence; null when it can. */
  refused: z.string().nullable(),
});

/** The pass under one set of conditions; null where a figure is not known. */
export const whatIfStateSchema = z.strictObject({
  focalLengthMm: orNull,
  sensorWidthMm: orNull,
  speedMps: orNull,
  wheelbaseM: orNull,
  wheelDiameterM: orNull,
  shutterAngleDeg: orNull,
  mode,
  smoothingS: orNull,
  delivery: runSchema.shape.delivery,
  /**
   * Of the width; low and high are the ends that decide: what the prediction leaves open, the measuring error and a repeat of the
   * move.
   */
  cropPercent: ranged,
  /** Columns of the delivery, left and right together. */
  cropPx: num,
  zoom: num,
  coverable: z.boolean(),
  /** px RMS of the delivery; low and high take in what the prediction leaves open and the measuring error. */
  residualPx: ranged.nullable(),
  /** True when residualPx is an upper bound. */
  residualAtMost: z.boolean(),
  /** How far blur pulses, px of the delivery; null where it is not known. */
  blurPx: ranged.nullable(),
  longestLens: z
    .strictObject({
      factor: num,
      focalLengthMm: orNull,
      limitedBy: z.enum(['crop', 'residual']).nullable(),
    })
    .nullable(),
  /** How much wider to frame for a repeat of the move. */
  framing: z.strictObject({ overscanPercent: num, overscanPx: num, focalLengthMm: orNull }).nullable(),
  take: z
    .strictObject({
      takeS: num,
      medianPercent: orNull,
      upper95Percent: orNull,
      atLeast: z.boolean(),
      refused: z.string().nullable(),
    })
    .nullable(),
  verdict: verdictSchema,
});

/** What the answer says, without where the run lies. */
export const whatIfAnswerSchema = z.strictObject({
  /** What was asked to be different, in words. */
  asked: z.array(z.strictObject({ what: z.string(), from: z.string(), to: z.string() })),
  measured: whatIfStateSchema,
  /** Null when nothing was asked, or when it cannot be foretold. */
  then: whatIfStateSchema.nullable(),
  /** What the advice leaves out, a plain sentence; null where it leaves out nothing. */
  adviceNote: z.string().nullable(),
  /** Why it cannot be foretold, a plain sentence; null otherwise. */
  refused: z.string().nullable(),
  /** What is taken for granted, plain sentences. */
  assumes: z.array(z.string()),
  /** All else as asked for; as measured where nothing was, or where that cannot be foretold. */
  tables: z.strictObject({
    focal: z.array(rowSchema.extend({ focalLengthMm: orNull, factor: num })),
    speed: z.array(rowSchema.extend({ speedMps: num })),
    /** Why there is no table over speeds; null when there is one. */
    speedRefused: z.string().nullable(),
    deliveries: z.array(rowSchema.extend({ delivery: runSchema.shape.delivery })),
    /** What another shape of the picture does to its crop; null where all have the shape of the clip. */
    deliveriesNote: z.string().nullable(),
    /** Empty for a way that has no smoothing of its own. */
    smoothing: z.array(rowSchema.extend({ smoothingS: num })),
    wheelbase: z.array(rowSchema.extend({ wheelbaseM: num })),
    /** Why there is no table over wheelbases; null when there is one. */
    wheelbaseRefused: z.string().nullable(),
  }),
});

export const whatIfSchema = z.strictObject({
  schema: z.literal(WHAT_IF_SCHEMA),
  tool: z.strictObject({ version: z.string(), commit: z.string().nullable() }),
  /** The run that was asked. */
  run: z.strictObject({
    place: z.string(),
    clip: z.string(),
    sha256: z.string(),
    createdAt: z.string(),
    pass: passSheetSchema,
  }),
  ...whatIfAnswerSchema.shape,
});

export type WhatIfState = z.infer<typeof whatIfStateSchema>;
/** What would be different, as computed from a pass. */
export type WhatIfAnswer = z.infer<typeof whatIfAnswerSchema>;
/** An answer as its JSON file holds it. */
export type WhatIfDocument = z.infer<typeof whatIfSchema>;
/** A row of one of the tables. */
export type WhatIfRow = z.infer<typeof rowSchema>;

/** Checks a value against the schema and gives it back typed. @throws ZodError with the path of every fault */
export function parseWhatIf(value: unknown): WhatIfDocument {
  return whatIfSchema.parse(value);
}
