/** The options that say how the clip is to be stabilised, and how they become a wish: mode, smoothing in seconds, take in seconds. */
import type { ArgsDef, ParsedArgs } from 'citty';
import type { StabiliseWish } from '../measure-request.js';
import { TrundleError, parseDurationS } from '../run/index.js';

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

const MODES: Record<string, StabiliseWish['mode']> = {
  'keep-move': 'keepMove',
  'hold-still': 'holdStill',
  smoothest: 'smoothest',
};

/** Shortest and longest smoothing that can be asked for, seconds. */
const SMOOTHING_S = [0.1, 20] as const;
/** Longest take that can be asked for, seconds. */
const LONGEST_TAKE_S = 4 * 3600;

/**
 * Reads the options.
 * @throws TrundleError `argument-invalid` naming the option and the value
 */
export function stabiliseWish(values: ParsedArgs<typeof STABILISE_ARGS>): StabiliseWish {
  const mode = modeOf(values.stabilise);
  const smoothingS = seconds('--smoothing', values.smoothing, ...SMOOTHING_S);
  if (smoothingS !== undefined && mode !== undefined && mode !== 'keepMove')
    throw new TrundleError(
      'argument-invalid',
      `"--smoothing ${values.smoothing}" goes with --stabilise keep-move; ${values.stabilise} has no smoothing of its own.`,
    );
  return { mode, smoothingS, takeS: seconds('--take', values.take, 1, LONGEST_TAKE_S) };
}

function modeOf(text: string | undefined): StabiliseWish['mode'] {
  if (text === undefined) return undefined;
  const mode = MODES[text.toLowerCase()];
  if (!mode)
    throw new TrundleError(
      'argument-invalid',
      `"--stabilise ${text}" must be one of ${Object.keys(MODES).join(', ')}.`,
    );
  return mode;
}

function seconds(
  option: string,
  text: string | undefined,
  least: number,
  greatest: number,
): number | undefined {
  if (text === undefined) return undefined;
  const value = parseDurationS(text);
  if (!(value >= least && value <= greatest))
    throw new TrundleError(
      'argument-invalid',
      `"${option} ${text}" must lie between ${least} s and ${greatest} s.`,
    );
  return value;
}
