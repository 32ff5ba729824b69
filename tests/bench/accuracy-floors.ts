/** Floors as graded against floors as made, a line each: every mixture of class, joints, speed, wheelbase, wheel and view. */
import {
  falseEventsAllowed,
  floorAccuracyOf,
  shareFound,
  type FloorAccuracy,
} from '../support/floor-accuracy.js';
import { FLOORS, floorPass, type FloorClass, type FloorPass } from '../support/floor-passes.js';

/** All mixtures, the covering ones of the tests among them. */
const FLOOR_MATRIX: readonly FloorPass[] = (Object.keys(FLOORS) as FloorClass[]).flatMap((floorClass) =>
  ([0, 0.3, 0.6] as const).flatMap((jointsM) =>
    ([0.25, 0.5] as const).flatMap((speedMps) =>
      ([0.45, 0.9] as const).flatMap((wheelbaseM) =>
        (['hard', 'soft'] as const).flatMap((wheel) =>
          (['ahead', 'sideways'] as const).map((view) =>
            floorPass({ floorClass, jointsM, speedMps, wheelbaseM, wheel, view }),
          ),
        ),
      ),
    ),
  ),
);

/** Prints a line per pass whose name holds one of the words (all when there are none), and the summary. */
export async function printFloorTable(
  words: readonly string[],
  write: (text: string) => void,
): Promise<void> {
  const wanted = FLOOR_MATRIX.filter(
    ({ pass }) => words.length === 0 || words.some((word) => pass.name.includes(word)),
  );
  if (wanted.length === 0) return;
  write(
    'Gd over the true one: between joints, as rolled; sd of ln Gd. Spacing of the row in m. Joints of the list within 3 cm of true ones, their error in mm RMS. Events of the list where there is nothing, and how many are let pass.\n\n' +
      '| floor | class | Gd | as rolled | sd ln | row | joints | error | false | s |\n|---|---|---|---|---|---|---|---|---|---|\n',
  );
  const clips: FloorAccuracy[] = [];
  for (const pass of wanted) {
    const clip = await floorAccuracyOf(pass, 2);
    clips.push(clip);
    write(`| ${cells(clip).join(' | ')} |\n`);
  }
  const count = (holds: (clip: FloorAccuracy) => boolean): string =>
    `${clips.filter(holds).length} of ${clips.length}`;
  write(
    `\n- class right: ${count(({ surface, trueClass }) => surface.isoClass === trueClass)}; "at most": ${count(({ surface }) => surface.atMost)}\n` +
      `- row as made (none, or its spacing within 1 %): ${count(rowAsMade)}\n` +
      `- seven joints of ten or more: ${count((clip) => shareFound(clip) >= 0.7)}\n` +
      `- false events as few as allowed: ${count((clip) => clip.falseEvents.length <= falseEventsAllowed(clip))}\n\n`,
  );
}

function rowAsMade({ surface, jointSpacingM }: FloorAccuracy): boolean {
  if (jointSpacingM === 0) return surface.joints === null;
  return Math.abs((surface.joints?.spacingM ?? Infinity) / jointSpacingM - 1) <= 0.01;
}

function cells(clip: FloorAccuracy): string[] {
  const { surface, trueGdM3, missedByM, falseEvents } = clip;
  const over = (gdM3: number | null): string => (gdM3 === null ? '-' : (gdM3 / trueGdM3).toFixed(2));
  const met = missedByM.filter((byM) => byM <= 0.03);
  const errorMm = 1000 * Math.sqrt(met.reduce((sum, byM) => sum + byM ** 2, 0) / met.length);
  const grade = surface.atMost ? `at most ${over(surface.psdAt01CyclesPerM)}` : (surface.isoClass ?? '-');
  return [
    clip.name.replace('floor-', ''),
    surface.observable ? grade : (surface.reason ?? '-'),
    over(surface.psdAt01CyclesPerM),
    over(surface.psdAsRolled),
    surface.parts?.sdLn.toFixed(2) ?? '-',
    surface.joints?.spacingM.toFixed(4) ?? '-',
    `${met.length} of ${missedByM.length}`,
    met.length > 0 ? errorMm.toFixed(1) : '-',
    `${falseEvents.length} of ${falseEventsAllowed(clip).toFixed(1)}`,
    clip.seconds.toFixed(1),
  ];
}
