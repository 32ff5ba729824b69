/** Several changes of a pass at once: the motion that the camera would then have had, with its range. */
import type { Motion } from '../../motion/index.js';
import { jointFactor } from '../relative-range.js';
import type { MeasuredPass } from '../pass/measured-pass.js';
import { atSpeed } from './at-speed.js';
import { onOtherFloor } from './other-floor.js';
import { shimmed } from './shimmed.js';
import { silenced } from './silenced.js';
import { isRefused, unchanged, type ChangedMotion, type PassChange, type RefusedChange } from './types.js';

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
  return applyChanges(pass, [change]);
}

/**
 * The motion after all changes, whatever their order in the list; none give the very motion of the pass. Ranges add up end to end:
 * the least of one change is the start of the least of the next.
 *
 * Joints that are silenced as a source are shimmed where they are in the list of bumps. What lies under another surface is not felt:
 * it is not shimmed besides. Shimmed joints still count in the floor that other axles and wheels are foretold from.
 *
 * @returns the refusal of the first change that cannot be foretold
 */
export function applyChanges(
  pass: MeasuredPass,
  changes: readonly PassChange[],
): ChangedMotion | RefusedChange {
  const { motion } = pass;
  let now = pass;
  let found: ChangedMotion = unchanged(motion);
  for (const change of inOrder(pass, changes)) {
    const next = changeFurther(now, found, change);
    if (isRefused(next)) return next;
    found = { ...next, assumes: [...new Set([...found.assumes, ...next.assumes])] };
    if (change.what === 'silence') now = withoutPeaksOf(now, change.sources);
  }
  return found;
}

function inOrder(pass: MeasuredPass, changes: readonly PassChange[]): PassChange[] {
  const covered = changes.some(({ what }) => what === 'smoothSurface' || what === 'measuredSurface');
  return changes
    .flatMap((change) => (change.what === 'silence' ? shimsFirst(pass, change.sources) : [change]))
    .filter(({ what }) => !(covered && what === 'shim'))
    .sort((a, b) => ORDER.indexOf(a.what) - ORDER.indexOf(b.what));
}

/** Joints are silenced by shims where it is known where they lie; all else as it is. */
function shimsFirst({ floor, sections }: MeasuredPass, sources: readonly number[]): PassChange[] {
  const bumps = [...sections.surface.bumps.keys()].filter((i) => sections.surface.bumps[i].kind === 'joint');
  const others = sources.filter((source) => sections.spectrum.sources[source]?.cause !== 'joint');
  if (floor === null || bumps.length === 0 || others.length === sources.length)
    return [{ what: 'silence', sources }];
  const shims: PassChange = { what: 'shim', bumps };
  return others.length === 0 ? [shims] : [shims, { what: 'silence', sources: others }];
}

/** What was silenced neither keeps its frequency at another speed nor is taken out twice. */
function withoutPeaksOf(pass: MeasuredPass, silent: readonly number[]): MeasuredPass {
  const { spectrum } = pass.sections;
  const peaks = spectrum.peaks.filter(({ source }) => !silent.includes(source));
  return { ...pass, sections: { ...pass.sections, spectrum: { ...spectrum, peaks } } };
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
  const after = (motion: Motion): ChangedMotion | RefusedChange => single({ ...pass, motion }, change);
  const expected = after(before.expected);
  if (isRefused(expected)) return expected;
  const least = before.least === before.expected ? expected : after(before.least);
  const most = before.most === before.expected ? expected : after(before.most);
  if (isRefused(least)) return least;
  if (isRefused(most)) return most;
  const otherwise = before.otherwise.map(after);
  const refused = otherwise.find(isRefused);
  if (refused !== undefined) return refused;
  return {
    ...expected,
    least: least.least,
    most: most.most,
    otherwise: [
      ...expected.otherwise,
      ...otherwise.flatMap((one) => (isRefused(one) ? [] : [one.expected, ...one.otherwise])),
    ],
    factor95: jointFactor(before.factor95, expected.factor95),
  };
}

function single(pass: MeasuredPass, change: PassChange): ChangedMotion | RefusedChange {
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
