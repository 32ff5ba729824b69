/** The options that say how the clip is to be stabilised. */
import type { ArgsDef } from 'citty';

/** Options of stabilising, shared by the commands that plan it. */
export const STABILISE_ARGS = {
  stabilise: {
    type: 'string',
    valueHint: 'keep-move',
    description:
      'what the stabilised picture is to do: keep-move, hold-still, or smoothest within --max-crop',
  },
  smoothing: {
    type: 'string',
    valueHint: '1.2s',
    description: 'with keep-move: slower motion than this is the move and stays',
  },
  take: { type: 'string', valueHint: '45s', description: 'length of the take that the crop is foretold for' },
} as const satisfies ArgsDef;
