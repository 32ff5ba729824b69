/** The options that fill in the sheet of a pass: where, over what, with which setup, by whom; words of the crew. */
import type { ArgsDef } from 'citty';

/** Options of the sheet, shared by the commands that write it. */
export const PASS_ARGS = {
  floor: { type: 'string', valueHint: '"dairy hall"', description: 'name of the floor or rail run' },
  location: { type: 'string', valueHint: '"old dairy"', description: 'where it was shot' },
  lane: {
    type: 'string',
    valueHint: '2',
    description: 'strip of floor that was rolled over; passes of one lane are laid over each other',
  },
  direction: { type: 'string', valueHint: 'out', description: 'along the lane: out, or back against it' },
  setup: { type: 'string', valueHint: '"soft tyres"', description: 'name of the setup, to compare it later' },
  wheels: { type: 'string', valueHint: '"80 mm rubber"', description: 'wheels that it ran on' },
  track: { type: 'string', valueHint: '"plywood, two layers"', description: 'boards or rail that were laid' },
  'pass-number': { type: 'string', valueHint: '3', description: 'number of the pass' },
  operator: { type: 'string', valueHint: 'Mara', description: 'who drove the dolly' },
  production: { type: 'string', valueHint: '"Night Shift"', description: 'production' },
  unit: { type: 'string', valueHint: '"second unit"', description: 'unit' },
  'camera-roll': { type: 'string', valueHint: 'A004', description: 'name of the camera roll' },
  slate: { type: 'string', valueHint: '27B', description: 'slate' },
  'take-number': { type: 'string', valueHint: '2', description: 'take on the slate' },
  mark: { type: 'string', valueHint: 'good', description: 'good or no-good' },
  notes: { type: 'string', valueHint: '"door was open"', description: 'anything worth knowing' },
  tags: { type: 'string', valueHint: 'night,wet', description: 'words to find it by, between commas' },
} as const satisfies ArgsDef;
