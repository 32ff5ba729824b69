/** The floor in a few lines of plain text: its class, its joints, and the worst bumps with their place. */
import { figure, worstHeightMm, type RunDocument, type SurfaceBump } from '../run/index.js';
import { bumpInWords, classInWords, floorTexts, placeInWords } from '../texts/index.js';
import { timecodeAt } from './charts/index.js';

/** Bumps that the text names; the report lists them all. */
const NAMED = 5;
/** Lines after the first stand under its text. */
const INDENT = '       ';
const { lines: texts } = floorTexts;

/** The bumps by height, the highest first. */
export function worstFirst(bumps: readonly SurfaceBump[]): SurfaceBump[] {
  return [...bumps].sort((a, b) => worstHeightMm(b) - worstHeightMm(a));
}

/** What was foretold for boards or rail that could be laid over the floor. */
function otherSurfaces({ predictions }: RunDocument['surface']): string[] {
  return predictions
    .filter(({ change }) => change === 'surface')
    .map(({ label, ratio, reason }) =>
      ratio === null
        ? texts.notForetold(label, reason)
        : texts.laidOver(label, figure(ratio.value), figure(ratio.low), figure(ratio.high)),
    );
}

/** Lines on the floor for a terminal, the first beginning with "Floor:". */
export function floorLines({ surface, clip }: RunDocument): string[] {
  const { joints, bumps, distanceRangePercent, spoken } = surface;
  const words = classInWords(surface);
  const first = words === null ? texts.notGraded(surface.reason) : texts.graded(spoken?.word ?? null, words);
  const row =
    joints === null
      ? []
      : [texts.row(joints.count, `${joints.spacingM.toFixed(3)} m`, `${figure(joints.stepRmsMm)} mm`)];
  const named = worstFirst(bumps)
    .slice(0, NAMED)
    .map((bump) =>
      texts.bump(
        placeInWords(bump.atM, bump.atRangeM),
        timecodeAt(clip, bump.atS),
        bumpInWords(bump),
        bump.pictureShiftPx === null ? null : `${figure(bump.pictureShiftPx)} px`,
      ),
    );
  const more = bumps.length - NAMED;
  const last = [
    ...(more > 0 ? [texts.more(more)] : []),
    ...(bumps.length > 0 && distanceRangePercent !== null
      ? [texts.distances(figure(distanceRangePercent))]
      : []),
  ].join(' ');
  const rest = [...row, ...otherSurfaces(surface), ...named, ...(last === '' ? [] : [last])];
  return [first, ...rest.map((line) => INDENT + line)];
}
