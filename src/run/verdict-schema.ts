/** The part of the run document that says whether the pass will do: the verdict, its reasons in figures, what to do. */
import { z } from 'zod';
import { CODE_SAYS, COVERABLE_SAYS, GRADE_SAYS, rangedSchema } from './shared-schema.js';

const num = z.number();
const orNull = num.nullable();
const interval = z.tuple([num, num]);

/** What a pass would cost and leave after a change, with 95 % ranges. */
export const predictedOutcomeSchema = z.strictObject({
  cropPercent: rangedSchema.describe(
    'Crop that stabilising costs, per cent of the width, with its 95 % range.',
  ),
  coverable: z.boolean().describe(COVERABLE_SAYS),
  residualPx: rangedSchema
    .nullable()
    .describe('Shake left after stabilising, px RMS of the delivery; null when it is not known.'),
  grade: z.enum(['pass', 'marginal', 'fail']).describe('What the verdict would be: pass, marginal or fail.'),
});

export const verdictSchema = z.strictObject({
  grade: z.enum(['pass', 'marginal', 'fail', 'unmeasurable']).describe(`The verdict: ${GRADE_SAYS}`),
  reasons: z
    .array(
      z.strictObject({
        code: z.string().describe(CODE_SAYS),
        text: z.string().describe('The reason as a plain sentence with its figures.'),
        value: orNull.describe('The figure that was looked at, in unit; null where there is none.'),
        limit: orNull.describe(
          'The limit that it was held against, in unit; null for a note, which decides nothing.',
        ),
        margin: orNull.describe(
          'Room left to the limit, in unit; below 0 beyond it, or short of it where it is the least that is needed. Null without one.',
        ),
        ci95: interval
          .nullable()
          .describe(
            '95 % range of the value, which it was decided with: marginal where the limit lies within. Null where none is known.',
          ),
        unit: z.string().describe('Unit of value, limit, margin and ci95; empty for a number without one.'),
      }),
    )
    .describe('What the verdict rests on, and what to know beside it.'),
  advice: z
    .array(
      z.strictObject({
        code: z.string().describe(CODE_SAYS),
        text: z.string().describe('What to do, a plain sentence.'),
        effect: z.string().describe('What it would do, a plain sentence with its figures.'),
        predicted: predictedOutcomeSchema
          .nullable()
          .describe(
            'Crop, shake left and grade with this step taken alone; null where it changes none of them.',
          ),
      }),
    )
    .describe('What to do, the step that helps most first.'),
});
