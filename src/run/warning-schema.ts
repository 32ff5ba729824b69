/** A thing to know about a measurement, and when in the clip, seconds. */
import { z } from 'zod';
import { CODE_SAYS } from './shared-schema.js';

export const warningSchema = z.strictObject({
  code: z.string().describe(CODE_SAYS),
  text: z.string().describe('The warning as a plain sentence.'),
  atS: z
    .number()
    .nullable()
    .describe('When it happens, seconds from the start of the clip; null where it holds for the whole clip.'),
});
