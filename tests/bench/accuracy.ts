/** Prints measured against true on every made-up pass as a table: `npm run bench:accuracy [name...]`. */
import { AXES } from '../../src/run/index.js';
import { accuracyOf, type AxisAccuracy } from '../support/accuracy.js';
import {
  DARK_PASS,
  LOCKED_OFF_PASS,
  SILENT_ANGLES_PASS,
  SILENT_TRANSLATION_PASS,
  passesOf,
} from '../support/accuracy-passes.js';

const ALL = [
  ...passesOf('lateral'),
  ...passesOf('arc'),
  ...passesOf('pushIn'),
  DARK_PASS,
  SILENT_TRANSLATION_PASS,
  SILENT_ANGLES_PASS,
  LOCKED_OFF_PASS,
];

const wanted = process.argv.slice(2);
const passes =
  wanted.length > 0 ? ALL.filter((pass) => wanted.some((word) => pass.name.includes(word))) : ALL;

function figure(value: number | null, angular: boolean): string {
  return value === null ? '-' : (angular ? value * 1000 : value * 1000).toFixed(angular ? 1 : 0);
}

function cell(axis: AxisAccuracy, angular: boolean): string {
  const measured =
    axis.measured === null ? `<${figure(axis.below, angular)}` : figure(axis.measured, angular);
  return `${figure(axis.truth, angular)}|${measured}|${figure(axis.error, angular)}|${axis.correlation.toFixed(3)}`;
}

process.stdout.write(
  'Angles in mdeg, translations in um: true | measured (< bound) | RMS error of the series | correlation\n',
);
for (const pass of passes) {
  const clip = await accuracyOf(pass, 2);
  const cells = AXES.map((axis, i) => cell(clip.axes[axis], i < 3).padStart(24));
  process.stdout.write(
    `${clip.name.padEnd(20)}${cells.join('')}  zoom ${((clip.zoomMeasured - 1) * 100).toFixed(2)} % of ${((clip.zoomTrue - 1) * 100).toFixed(2)} %` +
      `  sigma ${clip.sigmaPx.toFixed(3)} px  ${clip.run.verdict.grade}  ${clip.seconds.toFixed(1)} s\n`,
  );
}
