/** Measured against true on made-up clips, a line each, and how many axes met the accuracy that coded pictures allow. */
import { AXES, type Axis } from '../../src/run/index.js';
import { accuracyOf, type AxisAccuracy, type ClipAccuracy, type Pass } from '../support/accuracy.js';

/** RMS freed of noise must be within the larger of the two; degrees or millimetres. Own trials on H.264 at 720 lines. */
const MET: Readonly<Record<Axis, { readonly rel: number; readonly abs: number }>> = {
  pan: { rel: 0.02, abs: 0.0007 },
  tilt: { rel: 0.02, abs: 0.0007 },
  roll: { rel: 0.02, abs: 0.0015 },
  lateral: { rel: 0.06, abs: 0.03 },
  vertical: { rel: 0.06, abs: 0.03 },
  axial: { rel: 0.05, abs: 0.08 },
};

/** Series error in floors that nine axes of ten keep, and that none exceeds. */
const USUAL_FLOORS = 1.5;
const MOST_FLOORS = 3;

/** Prints a line per clip whose name holds one of the words (all when there are none), and the summary. */
export async function printClipTable(
  passes: readonly Pass[],
  words: readonly string[],
  write: (text: string) => void,
): Promise<void> {
  const wanted = passes.filter(({ name }) => words.length === 0 || words.some((word) => name.includes(word)));
  if (wanted.length === 0) return;
  const heads = AXES.map((axis) => `${axis} |`).join(' ');
  write(
    'Angles in mdeg, translations in um: true, measured (< bound), RMS error of the series, error / floor, correlation\n\n' +
      `| made-up clip | ${heads} zoom, % | sigma px | grade | s |\n` +
      `|---|${'---|'.repeat(AXES.length + 4)}\n`,
  );
  const clips: ClipAccuracy[] = [];
  for (const pass of wanted) {
    const clip = await accuracyOf(pass, 2);
    clips.push(clip);
    const cells = AXES.map((axis) => cell(clip.axes[axis], axis in clip.run.motion.angular));
    const zoom = [clip.zoomTrue, clip.zoomMeasured].map((value) => ((value - 1) * 100).toFixed(2)).join(' ');
    const rest = [zoom, clip.sigmaPx.toFixed(3), clip.run.verdict.grade, clip.seconds.toFixed(1)];
    write(`| ${[clip.name, ...cells, ...rest].join(' | ')} |\n`);
  }
  write(`\n${summary(clips)}\n`);
}

function cell(axis: AxisAccuracy, angular: boolean): string {
  const figure = (value: number | null): string =>
    value === null ? '-' : (value * 1000).toFixed(angular ? 1 : 0);
  const measured = axis.measured === null ? `<${figure(axis.below)}` : figure(axis.measured);
  const floors = axis.floor === null ? '-' : (axis.error / axis.floor).toFixed(1);
  const likeness = Number.isFinite(axis.correlation) ? axis.correlation.toFixed(3) : '–';
  return [figure(axis.truth), measured, figure(axis.error), floors, likeness]
    .join(' ')
    .replaceAll('NaN', '–');
}

/** How many axes of all clips met the promised accuracy and floors. */
function summary(clips: readonly ClipAccuracy[]): string {
  const seen = clips.flatMap((clip) => AXES.map((axis) => ({ axis, name: clip.name, ...clip.axes[axis] })));
  const valued = seen.filter(({ measured }) => measured !== null);
  const met = valued.filter(
    ({ axis, measured, truth }) =>
      Math.abs((measured ?? NaN) - truth) <= Math.max(MET[axis].rel * truth, MET[axis].abs),
  );
  const bounded = seen.filter(({ status, below }) => status === 'below' && below !== null);
  const held = bounded.filter(({ below, truth }) => truth <= (below ?? 0));
  const floored = seen.filter(({ floor, error }) => floor !== null && Number.isFinite(error));
  const ratio = ({ error, floor }: AxisAccuracy): number => error / (floor ?? NaN);
  const usual = floored.filter((axis) => ratio(axis) <= USUAL_FLOORS);
  const beyond = floored.filter((axis) => ratio(axis) > MOST_FLOORS);
  const missed = valued.filter((axis) => !met.includes(axis));
  const list = (axes: readonly { readonly name: string; readonly axis: Axis }[]): string =>
    axes.length > 0 ? `: ${axes.map(({ name, axis }) => `${name} ${axis}`).join(', ')}` : '';
  return [
    `RMS within 2 % or 0.7 mdeg (roll 1.5), 6 % or 0.03 mm (axial 5 % or 0.08): ${met.length} of ${valued.length} axes with a value; missed${list(missed) || ': none'}`,
    `bound holds: ${held.length} of ${bounded.length} axes below their noise`,
    `error within ${USUAL_FLOORS} floors: ${usual.length} of ${floored.length} axes; beyond ${MOST_FLOORS}${list(beyond) || ': none'}`,
  ]
    .map((line) => `- ${line}\n`)
    .join('');
}
