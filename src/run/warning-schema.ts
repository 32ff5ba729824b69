/** A thing to know about a measurement, and when in the clip, seconds. */
import { z } from 'zod';

export const warningSchema = z.strictObject({
  code: z.string(),
  text: z.string(),
  atS: z.number().nullable(),
});
