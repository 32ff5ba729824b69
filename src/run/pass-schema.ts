/** The sheet of a test pass: where, over what, with which setup, by whom; every entry is optional and written by the crew. */
import { z } from 'zod';

/** Long enough for a name; a note may be longer. */
const name = z.string().trim().min(1).max(200);

/** The sheet as given: the log of a test pass, and the fields that a camera report carries. */
export const passSheetSchema = z.strictObject({
  production: name.optional(),
  unit: name.optional(),
  location: name.optional(),
  /** Name of the floor or rail run. */
  floor: name.optional(),
  /** The strip of floor that was rolled over: passes of one lane can be laid over each other by position. */
  lane: name.optional(),
  /** Along the lane: "out" as it is counted, "back" against that. */
  direction: z.enum(['out', 'back']).optional(),
  /** Name of the setup: what is compared with another. */
  setup: name.optional(),
  wheels: name.optional(),
  track: name.optional(),
  operator: name.optional(),
  passNumber: z.number().int().min(1).max(9999).optional(),
  /** Camera roll, slate and take. */
  roll: name.optional(),
  slate: name.optional(),
  take: name.optional(),
  mark: z.enum(['good', 'noGood']).optional(),
  notes: z.string().trim().min(1).max(4000).optional(),
  tags: z.array(name).max(50).optional(),
});

/** A sheet: only what the crew wrote. */
export type PassSheet = z.infer<typeof passSheetSchema>;
