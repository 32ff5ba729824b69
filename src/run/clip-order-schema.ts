/**
 * What goes between machines that measure together: the order of a clip, schema "trundle-clip-order/1", and what came of it, schema
 * "trundle-measured-clip/1". Both pass through a store that others may write to, so they are read back through these schemas.
 */
import { z } from 'zod';
import { runSchema } from './document.js';
import { passSheetSchema } from './pass-schema.js';
import { UNITS } from './quantities.js';
import { deliverySchema, rigSchema } from './rig.js';
import { runSeriesSchema } from './series-schema.js';

/** Format and version of the order. */
export const CLIP_ORDER_SCHEMA = 'trundle-clip-order/1';
/** Format and version of what came of it. */
export const MEASURED_CLIP_SCHEMA = 'trundle-measured-clip/1';

const sha256 = z.string().regex(/^[0-9a-f]{64}$/);
const place = z.string().min(1).max(4096);
const typed = z.string().max(100);

/** An order: which clip, where it is, and what it is measured with. */
export const clipOrderSchema = z.strictObject({
  schema: z.literal(CLIP_ORDER_SCHEMA),
  name: z.string().min(1).max(1000).describe('Name of the clip with its ending, without its folder.'),
  place: z
    .union([z.strictObject({ path: place }), z.strictObject({ url: place })])
    .describe('Path as the machine that ordered sees it, or address.'),
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

/** What came of an order: everything that a report and an entry of the log are made from. */
export const measuredClipSchema = z.strictObject({
  schema: z.literal(MEASURED_CLIP_SCHEMA),
  name: z.string().min(1).max(1000).describe('Name of the clip, as it was ordered.'),
  settingsKey: sha256.describe('As it was ordered.'),
  worker: z.string().max(300).describe('Machine and process that measured it.'),
  run: runSchema,
  series: runSeriesSchema,
  jpeg: z.base64().nullable().describe('The frame of the report, a JPEG file; null where there is none.'),
});

/** The order of a clip. */
export type ClipOrder = z.infer<typeof clipOrderSchema>;
/** What came of the order of a clip. */
export type MeasuredClip = z.infer<typeof measuredClipSchema>;
