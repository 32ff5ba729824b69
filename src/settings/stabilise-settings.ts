/** What the stabilised picture is to do, out of what was typed: mode, smoothing in seconds, take in seconds. */
import { TrundleError, parseDurationS } from '../run/index.js';
import type { StabiliseMode } from '../stabilise/index.js';
import { typed, type SettingName, type Settings } from './names.js';
import type { SettingNaming } from './naming.js';

/** How the clip is to be stabilised; what is missing is chosen by the plan. */
export interface StabiliseWish {
  /** keepMove unless set. */
  readonly mode?: StabiliseMode | undefined;
  /** With keepMove: slower motion than this is the move, seconds. */
  readonly smoothingS?: number | undefined;
  /** Length of a take to foretell the crop for, seconds, besides the usual ones. */
  readonly takeS?: number | undefined;
}

const MODES: ReadonlyMap<string, StabiliseMode> = new Map([
  ['keep-move', 'keepMove'],
  ['hold-still', 'holdStill'],
  ['smoothest', 'smoothest'],
]);

/** What `stabilise` can be. */
export const STABILISE_CHOICES = [...MODES.keys()];

/** Shortest and longest smoothing that can be asked for, seconds. */
const SMOOTHING_S = [0.1, 20] as const;
/** Shortest and longest take that can be asked for, seconds. */
const TAKE_S = [1, 4 * 3600] as const;

/** Reads what was typed. @throws TrundleError `argument-invalid` naming the setting and the value */
export function stabiliseOf(settings: Settings, naming: SettingNaming): StabiliseWish {
  const mode = modeOf(typed(settings, 'stabilise'), naming);
  const smoothingS = seconds(settings, 'smoothing', SMOOTHING_S, naming);
  if (smoothingS !== undefined && mode !== undefined && mode !== 'keepMove')
    throw new TrundleError(
      'argument-invalid',
      `${naming.given('smoothing', typed(settings, 'smoothing') ?? '')} goes with ${naming.with('stabilise', 'keep-move')}; ${naming.value('stabilise', typed(settings, 'stabilise') ?? '')} has no smoothing of its own.`,
    );
  return { mode, smoothingS, takeS: seconds(settings, 'take', TAKE_S, naming) };
}

function modeOf(text: string | undefined, naming: SettingNaming): StabiliseMode | undefined {
  if (text === undefined) return undefined;
  const mode = MODES.get(text.trim().toLowerCase());
  if (!mode)
    throw new TrundleError(
      'argument-invalid',
      `${naming.given('stabilise', text)} must be one of ${STABILISE_CHOICES.join(', ')}.`,
    );
  return mode;
}

function seconds(
  settings: Settings,
  name: SettingName,
  [least, greatest]: readonly [number, number],
  naming: SettingNaming,
): number | undefined {
  const text = typed(settings, name);
  if (text === undefined) return undefined;
  const value = parseDurationS(text);
  if (!(value >= least && value <= greatest))
    throw new TrundleError(
      'argument-invalid',
      `${naming.given(name, text)} must lie between ${least} s and ${greatest} s.`,
    );
  return value;
}
