/** What this floor is and what to do about it, in plain words; or why it was not graded and what to give. */
import type { Rig, RunDocument, SurfaceBump, SurfaceSection } from '../../run/index.js';
import { bumpInWords, classInWords, floorTexts, placeInWords } from '../../texts/index.js';
import { timecodeAt } from '../charts/index.js';
import { worstFirst } from '../floor-words.js';

/** A kick of more than this shows in the delivery, px. */
const SHOWS_PX = 1;

/** The sentences at the head of the section. */
export function floorLead(run: RunDocument): string {
  const { surface } = run;
  const { bumps, joints, spoken, atLeast } = surface;
  const words = classInWords(surface);
  const what =
    spoken !== null
      ? floorTexts.word(spoken.word, spoken.orBetter)
      : words === null
        ? floorTexts.unnamed
        : floorTexts.class(words);
  const [worst] = worstFirst(bumps);
  if (worst === undefined) return atLeast ? floorTexts.hidden(what) : floorTexts.smooth(what);
  const spacing = joints === null ? null : `${joints.spacingM.toFixed(3)} m`;
  const place = placeInWords(worst.atM, worst.atRangeM);
  const worstWords = floorTexts.worst(place, timecodeAt(run.clip, worst.atS), bumpInWords(worst));
  return `${floorTexts.with(what, countsOf(bumps), spacing)} ${worthShimming(run)}; ${worstWords}`;
}

/** How many kick the picture so that it shows, and whether that asks for shims. */
function worthShimming({ surface: { bumps }, verdict }: RunDocument): string {
  const kicks = bumps.flatMap(({ pictureShiftPx }) => pictureShiftPx ?? []);
  if (kicks.length === 0) return floorTexts.kicksUnknown;
  const worth = kicks.filter((kick) => kick > SHOWS_PX).length;
  if (worth === 0) return floorTexts.noShim(bumps.length);
  return verdict.grade === 'pass'
    ? floorTexts.withinLimits(worth, bumps.length)
    : floorTexts.shim(worth, bumps.length);
}

const KINDS: readonly SurfaceBump['kind'][] = ['joint', 'step', 'bump', 'dip'];

function countsOf(bumps: readonly SurfaceBump[]): [SurfaceBump['kind'], number][] {
  return KINDS.flatMap((kind): [SurfaceBump['kind'], number][] => {
    const count = bumps.filter((bump) => bump.kind === kind).length;
    return count === 0 ? [] : [[kind, count]];
  });
}

/** Inputs that a refusal asks for, and how it names them. */
const INPUTS: readonly {
  readonly id: keyof typeof floorTexts.inputs;
  readonly asked: RegExp;
  readonly missing: (rig: Rig) => boolean;
}[] = [
  {
    id: 'speed',
    asked: /\bspeed\b/i,
    missing: ({ speedMps, travelM }) => speedMps === undefined && travelM === undefined,
  },
  { id: 'wheelbase', asked: /\bwheelbase\b/i, missing: ({ wheelbaseM }) => wheelbaseM === undefined },
  { id: 'trackWidth', asked: /\btrack width\b/i, missing: ({ trackWidthM }) => trackWidthM === undefined },
  {
    id: 'cameraHeight',
    asked: /\bcamera height\b/i,
    missing: ({ cameraHeightM }) => cameraHeightM === undefined,
  },
  {
    id: 'azimuth',
    asked: /\blens azimuth\b/i,
    missing: ({ lensAzimuthDeg }) => lensAzimuthDeg === undefined,
  },
];

/** Why the floor was not graded, and with which options it would be. */
export function notGraded({ surface, rig }: { readonly surface: SurfaceSection; readonly rig: Rig }): string {
  const { reason } = surface;
  const missing = INPUTS.filter(
    ({ asked, missing }) => reason !== null && asked.test(reason) && missing(rig),
  );
  if (missing.length === 0) return floorTexts.notGraded(reason);
  const inputs = missing.map(({ id }) => floorTexts.inputs[id]);
  return floorTexts.notGiven(
    inputs.map(({ name }) => name),
    inputs.map(({ option }) => option),
  );
}
