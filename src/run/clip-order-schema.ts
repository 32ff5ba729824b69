/**
 * What goes between machines that measure together: the order of a clip, schema "trundle-clip-order/1", that of a stretch of a long one,
 * schema "trundle-stretch-order/1", and what came of a clip, schema "trundle-measured-clip/1". All pass through a store that others may
 * write to, so they are read back through these schemas.
 */
import { z } from 'zod';
import { runSchema } from './document.js';
import { passSheetSchema } from './pass-schema.js';
import { UNITS } from './quantities.js';
import { deliverySchema, rigSchema } from './rig.js';
import { runSeriesSchema } from './series-schema.js';

/** Format and version of the order. */
export const CLIP_ORDER_SCHEMA = 'trundle-clip-order/1';
/** Format and version of the order of a stretch. */
export const STRETCH_ORDER_SCHEMA = 'trundle-stretch-order/1';
/** Format and version of what came of it. */
export const MEASURED_CLIP_SCHEMA = 'trundle-measured-clip/1';

/** Stretches that a clip may have: two weeks of footage. */
export const MOST_STRETCHES = 5000;

const sha256 = z.string().regex(/^[0-9a-f]{64}$/);
const name = z.string().min(1).max(1000);
const path = z.string().min(1).max(4096);
const place = z.union([z.strictObject({ path }), z.strictObject({ url: path })]);
const typed = z.string().max(100);
const version = z
  .string()
  .max(100)
  .describe('Version of the program that ordered; others leave the order to workers of that version.');

/** An order: which clip, where it is, and what it is measured with. */
export const clipOrderSchema = z.strictObject({
  schema: z.literal(CLIP_ORDER_SCHEMA),
  version,
  name: name.describe(
    'Path of the clip below the folder that was added, with slashes, or its name with its ending.',
  ),
  place: place.describe('Path as the machine that ordered sees it, or address.'),
  sizeBytes: z.number().int().min(0).nullable().describe('Length of the clip; null where nobody looked.'),
  sha256: sha256.describe('Of the bytes of the clip.'),
  settingsKey: sha256.describe('Of everything in the request that changes the figures.'),
  request: z
    .strictObject({
      rig: rigSchema,
      delivery: deliverySchema,
      pass: passSheetSchema,
      units: z.enum(UNITS).optional(),
      inPoint: typed.optional(),
      outPoint: typed.optional(),
      analysisWidthPx: z.number().optional(),
      cutoffHz: z.number().optional(),
      stabilise: z.strictObject({
        mode: z.enum(['keepMove', 'holdStill', 'smoothest']).optional(),
        smoothingS: z.number().optional(),
        takeS: z.number().optional(),
      }),
    })
    .describe('What the clip is measured with.'),
});

/** The order of a stretch: what it is measured with stands in the order of its clip. */
export const stretchOrderSchema = z
  .strictObject({
    schema: z.literal(STRETCH_ORDER_SCHEMA),
    version,
    clipJob: sha256.describe('Key of the job of its clip.'),
    name: name.describe('Name of the clip.'),
    place: place.describe('Where the clip was when the stretch was ordered.'),
    number: z
      .number()
      .int()
      .min(1)
      .describe('Which stretch, counted from 0; the first is no order of its own.'),
    count: z.number().int().max(MOST_STRETCHES).describe('Stretches of the clip.'),
  })
  .refine(({ number, count }) => number < count);

/** What came of an order: everything that a report and an entry of the log are made from. */
export const measuredClipSchema = z.strictObject({
  schema: z.literal(MEASURED_CLIP_SCHEMA),
  name: name.describe('Name of the clip, as it was ordered.'),
  settingsKey: sha256.describe('As it was ordered.'),
  worker: z.string().max(300).describe('Machine and process that measured it.'),
  run: runSchema,
  series: runSeriesSchema,
  jpeg: z.base64().nullable().describe('The frame of the report, a JPEG file; null where there is none.'),
});

/** The order of a clip. */
export type ClipOrder = z.infer<typeof clipOrderSchema>;
/** The order of a stretch of a long clip. */
export type StretchOrder = z.infer<typeof stretchOrderSchema>;
/** What came of the order of a clip. */
export type MeasuredClip = z.infer<typeof measuredClipSchema>;
