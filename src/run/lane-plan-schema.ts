/** The part of a comparison on the lanes of one floor: each along its length, which is best, where to keep off. */
import { z } from 'zod';
import { rangedSchema } from './shared-schema.js';

const num = z.number();

const avoidSchema = z.strictObject({
  fromM: num.describe('Where the stretch begins, m from where passes out begin.'),
  toM: num.describe('Where the stretch ends, m from where passes out begin.'),
  shakePx: num.describe('Shake over the stretch, px RMS of the delivery.'),
  timesUsual: num.describe('That shake over the middle of the lane, no unit.'),
  joints: num.describe('Joints and bumps that the wheels meet there.'),
});

/** Several lanes of one floor, each along its length. */
export const lanePlanSchema = z.strictObject({
  floor: z.string().nullable().describe('Name of the floor; null when it has none.'),
  setup: z
    .string()
    .nullable()
    .describe('The setup that the figures are of; null where each lane has its own.'),
  metric: z
    .boolean()
    .describe(
      'False: without travel or speed the places are shares of the pass, 0..1 (in the fields named M).',
    ),
  windowM: num.describe('Length over which the shake of a place is taken, m.'),
  lanes: z
    .array(
      z.strictObject({
        name: z.string().describe('Name of the lane.'),
        rank: num.describe('Its rank, 1 for the one that shakes least.'),
        runs: z.array(z.string()).describe('The runs behind it: folders, or numbers in the log.'),
        directions: z
          .array(z.enum(['out', 'back']))
          .describe('Ways that it was rolled: out as it is counted, back against that.'),
        lengthM: num.describe('Length of the lane as rolled, m.'),
        shakePx: rangedSchema.describe(
          'Shift of the delivered picture before stabilising, px RMS, with its 95 % range.',
        ),
        places: z
          .strictObject({
            atM: z.array(num).describe('Places of the rear axle, m from where passes out begin.'),
            shakePx: z.array(num).describe('Shake at each place, px RMS of the delivery.'),
          })
          .describe('The shake along the lane.'),
        joints: z
          .array(
            z.strictObject({
              atM: num.describe('Place of the joint or bump, m from where passes out begin.'),
              heightMm: num.describe('Its height, mm, without sign, under the mean of both wheel lines.'),
            }),
          )
          .describe('Joints and bumps of the lane.'),
        avoid: z.array(avoidSchema).describe('Stretches to keep off, the roughest first.'),
      }),
    )
    .describe('The lanes, the best first.'),
  best: z
    .strictObject({
      lane: z.string().nullable().describe('The best lane; null where no lane is clearly better.'),
      sentence: z.string().describe('What can be said of the lanes, in plain words.'),
    })
    .describe('Which lane to roll on.'),
  avoid: z
    .string()
    .nullable()
    .describe('The stretch to keep off, in plain words; null where the lanes are even.'),
});
