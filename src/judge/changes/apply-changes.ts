/** Several changes of a pass at once: the motion that the camera would then have had, with its range. */
import type { Motion } from '../../motion/index.js';
import type { MeasuredPass } from '../pass/measured-pass.js';
import { atSpeed } from './at-speed.js';
import { onOtherFloor } from './other-floor.js';
import { shimmed } from './shimmed.js';
import { silenced } from './silenced.js';
import { isRefused, type ChangedMotion, type PassChange, type RefusedChange } from './types.js';

/** What is done to the floor and its sources first, then what rolls over it, and how fast last. */
const ORDER: readonly PassChange['what'][] = [
  'shim',
  'silence',
  'smoothSurface',
  'measuredSurface',
  'wheelbase',
  'wheel',
  'speed',
];

/** The motion after one change. */
export function applyChange(pass: MeasuredPass, change: PassChange): ChangedMotion | RefusedChange {
  switch (change.what) {
    case 'speed':
      return atSpeed(pass, change.speedMps);
    case 'shim':
      return shimmed(pass, change.bumps);
    case 'silence':
      return silenced(pass, change.sources);
    default:
      return onOtherFloor(pass, change);
  }
}

/**
 * The motion after all changes, whatever their order in the list; none give the very motion of the pass. Ranges add up end to end:
 * the least of one change is the start of the least of the next.
 *
 * @returns the refusal of the first change that cannot be foretold
 */
export function applyChanges(
  pass: MeasuredPass,
  changes: readonly PassChange[],
): ChangedMotion | RefusedChange {
  const { motion } = pass;
  let found: ChangedMotion = { expected: motion, least: motion, most: motion, assumes: [] };
  for (const change of [...changes].sort((a, b) => ORDER.indexOf(a.what) - ORDER.indexOf(b.what))) {
    const next = changeFurther(pass, found, change);
    if (isRefused(next)) return next;
    found = { ...next, assumes: [...new Set([...found.assumes, ...next.assumes])] };
  }
  return found;
}

/**
 * One change more on a motion that was changed before; what is taken for granted is that of this change alone. Changes have to come in
 * the order of `applyChanges`: the speed last.
 */
export function changeFurther(
  pass: MeasuredPass,
  before: ChangedMotion,
  change: PassChange,
): ChangedMotion | RefusedChange {
  const after = (motion: Motion): ChangedMotion | RefusedChange => applyChange({ ...pass, motion }, change);
  const expected = after(before.expected);
  if (isRefused(expected)) return expected;
  const least = before.least === before.expected ? expected : after(before.least);
  const most = before.most === before.expected ? expected : after(before.most);
  if (isRefused(least)) return least;
  if (isRefused(most)) return most;
  return { ...expected, least: least.least, most: most.most };
}
