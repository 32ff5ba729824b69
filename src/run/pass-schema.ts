/** The sheet of a test pass: where, over what, with which setup, by whom; every entry is optional and written by the crew. */
import { z } from 'zod';

/** Long enough for a name; a note may be longer. */
const name = z.string().trim().min(1).max(200);

/** The sheet as given: the log of a test pass, and the fields that a camera report carries. */
export const passSheetSchema = z.strictObject({
  production: name.optional().describe('Name of the production.'),
  unit: name.optional().describe('Shooting unit, such as "main unit".'),
  location: name.optional().describe('Where the pass was shot.'),
  floor: name.optional().describe('Name of the floor or rail run.'),
  lane: name
    .optional()
    .describe(
      'The strip of floor that was rolled over: passes of one lane can be laid over each other by position.',
    ),
  direction: z
    .enum(['out', 'back'])
    .optional()
    .describe('Along the lane: "out" as it is counted, "back" against that.'),
  setup: name.optional().describe('Name of the setup: what is compared with another.'),
  wheels: name.optional().describe('Which wheels the dolly rolled on.'),
  track: name.optional().describe('Which track or boards lay on the floor.'),
  operator: name.optional().describe('Who operated the pass.'),
  passNumber: z.number().int().min(1).max(9999).optional().describe('Number of the pass, from 1.'),
  roll: name.optional().describe('Camera roll (the card or reel).'),
  slate: name.optional().describe('Slate of the shot.'),
  take: name.optional().describe('Take of the slate.'),
  mark: z.enum(['good', 'noGood']).optional().describe('What the crew thought of the pass: good or noGood.'),
  notes: z.string().trim().min(1).max(4000).optional().describe('What else the crew noted.'),
  tags: z.array(name).max(50).optional().describe('Words to find the pass by.'),
});

/** A sheet: only what the crew wrote. */
export type PassSheet = z.infer<typeof passSheetSchema>;
