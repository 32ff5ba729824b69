/** Joints and bumps to shim: the smallest set, worst first by what it is foretold to bring, that keeps the limits or does most of it. */
import { worstHeightMm, type SurfaceBump } from '../../run/index.js';
import { bumpInWords, placeInWords } from '../../texts/index.js';
import { floorAdviceTexts } from '../../texts/index.js';
import { applyChanges } from '../changes/apply-changes.js';
import { isRefused, type ChangedMotion, type RefusedChange } from '../changes/types.js';
import { byMotion, shareOfMotion, stepWhenItHelps, worstOf, type Present } from './present.js';
import type { ForetoldStep } from './step.js';

/** More places than this are not named one by one. */
export const MOST_NAMED = 5;
/** Only that many of the bumps that kick the picture most are tried one by one. */
const MOST_TRIED = { fine: 8, coarse: 3 } as const;
/** Most of what all of them would bring. */
const MOST_OF_IT = 0.8;

/** One step for all that is to be shimmed. */
export function shimSteps(present: Present): ForetoldStep[] | RefusedChange {
  const { bumps } = present.pass.sections.surface;
  if (bumps.length === 0) return [];
  const everything = shimmed(present, [...bumps.keys()]);
  if (isRefused(everything)) return everything;
  const before = worstOf(present.now, present);
  const gainOfAll = before - shareOfMotion(present, everything.expected);
  if (!(gainOfAll > 0)) return [];
  const few = fewThatDo(present, byGain(present), before, gainOfAll);
  return few === null
    ? stepOf(present, 'all', everything, bumps)
    : stepOf(
        present,
        'named',
        few.changed,
        few.places.map((place) => bumps[place]),
      );
}

/** Places in the list, the one that helps most by itself first. */
function byGain(present: Present): number[] {
  const { bumps } = present.pass.sections.surface;
  const kick = ({ pictureShiftPx }: SurfaceBump): number => pictureShiftPx ?? 0;
  return [...bumps.keys()]
    .sort((a, b) => kick(bumps[b]) - kick(bumps[a]) || worstHeightMm(bumps[b]) - worstHeightMm(bumps[a]))
    .slice(0, present.coarse ? MOST_TRIED.coarse : MOST_TRIED.fine)
    .map((place) => ({ place, share: shareWithout(present, [place]) }))
    .sort((a, b) => a.share - b.share)
    .map(({ place }) => place);
}

interface Few {
  readonly places: readonly number[];
  readonly changed: ChangedMotion;
}

/** The first of the list that do, one more at a time; null when more are needed than can be named. */
function fewThatDo(
  present: Present,
  order: readonly number[],
  before: number,
  gainOfAll: number,
): Few | null {
  for (let count = 1; count <= Math.min(MOST_NAMED, order.length); count++) {
    const places = order.slice(0, count).sort((a, b) => a - b);
    const changed = shimmed(present, places);
    if (isRefused(changed)) return null;
    const meets = shareOfMotion(present, changed.most) <= 1;
    if (meets || before - shareOfMotion(present, changed.expected) >= MOST_OF_IT * gainOfAll)
      return { places, changed };
  }
  return null;
}

function shimmed({ pass }: Present, bumps: readonly number[]): ChangedMotion | RefusedChange {
  return applyChanges(pass, [{ what: 'shim', bumps }]);
}

function shareWithout(present: Present, bumps: readonly number[]): number {
  const changed = shimmed(present, bumps);
  return isRefused(changed) ? Infinity : shareOfMotion(present, changed.expected);
}

function stepOf(
  present: Present,
  how: 'named' | 'all',
  changed: ChangedMotion,
  bumps: readonly SurfaceBump[],
): ForetoldStep[] {
  const { joints } = present.pass.sections.surface;
  const text =
    how === 'named'
      ? floorAdviceTexts.shim(namedPlaces(bumps))
      : joints === null
        ? floorAdviceTexts.shimAll(bumps.length)
        : joints.count >= bumps.length
          ? floorAdviceTexts.shimRow(bumps.length, joints.spacingM.toFixed(2))
          : floorAdviceTexts.shimAllWithRow(bumps.length, joints.count, joints.spacingM.toFixed(2));
  return stepWhenItHelps(present, byMotion(present, changed), { code: 'shim-joints', text, effort: 'shim' });
}

/** @example ["at 0.64 m the dip of 0.21 mm as this wheel sees it, left wheel line"] */
function namedPlaces(bumps: readonly SurfaceBump[]): string[] {
  return [...bumps]
    .sort((a, b) => a.atM - b.atM)
    .map((bump) => floorAdviceTexts.bumpAt(placeInWords(bump.atM, bump.atRangeM), bumpInWords(bump)));
}
