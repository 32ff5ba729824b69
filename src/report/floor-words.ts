/** The floor in a few lines of plain text: its class, its joints, and the worst bumps with their place. */
import { figure, worstHeightMm, type RunDocument, type SurfaceBump } from '../run/index.js';
import { bumpInWords, classInWords, placeInWords } from '../texts/index.js';
import { timecodeAt } from './html/setup.js';

/** Bumps that the text names; the report lists them all. */
const NAMED = 5;

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
        ? `       On ${label}: not foretold. ${reason ?? ''}`
        : `       On ${label}: ${figure(ratio.value)} times this shake (${figure(ratio.low)} to ${figure(ratio.high)}).`,
    );
}

/** Lines on the floor for a terminal, the first beginning with "Floor:". */
export function floorLines({ surface, clip }: RunDocument): string[] {
  const words = classInWords(surface);
  const word = surface.spoken === null ? '' : `${surface.spoken.word}; `;
  const lines = [
    words === null
      ? `Floor: ${surface.reason ?? 'not graded.'}`
      : `Floor: ${word}class ${words}, ISO 8608-style.`,
  ];
  const { joints, bumps, distanceRangePercent } = surface;
  if (joints !== null)
    lines.push(
      `       A row of ${joints.count} joints, every ${joints.spacingM.toFixed(3)} m, steps of ${figure(joints.stepRmsMm)} mm RMS.`,
    );
  lines.push(...otherSurfaces(surface));
  if (bumps.length === 0) return lines;
  for (const bump of worstFirst(bumps).slice(0, NAMED)) {
    const kick =
      bump.pictureShiftPx === null ? '' : `; kicks the picture by ${figure(bump.pictureShiftPx)} px`;
    lines.push(
      `       ${placeInWords(bump.atM, bump.atRangeM)} (${timecodeAt(clip, bump.atS)}): ${bumpInWords(bump)}${kick}`,
    );
  }
  const more = bumps.length - NAMED;
  const scale =
    distanceRangePercent === null
      ? ''
      : ` Distances from the rear axle at the start, within ${figure(distanceRangePercent)} %.`;
  lines.push(
    `       ${more > 0 ? `${more} more in the report.` : ''}${scale}`.replace('        ', '       '),
  );
  return lines;
}
