/** The shake by axis: table of the six axes and their motion over time. */
import {
  figure,
  ANGULAR_AXES,
  isAngular,
  AXES,
  TRANSLATIONAL_AXES,
  hasFigure,
  type Axis,
} from '../../run/index.js';
import { motionChart, reachOf, shareBar } from '../charts/index.js';
import {
  angularNumbers,
  axisFigure,
  cell,
  translationNumbers,
  withUnit,
  type AxisNumbers,
} from '../format.js';
import type { ReportBundle } from '../types.js';
import { axisNames, translationUnit } from '../wording.js';
import { html, trusted, type Insert, type Markup } from './markup.js';
import { separationNote, unreliableNote } from './separation.js';
import { behind, table } from './table.js';

const DEG = 180 / Math.PI;

/** The section on shake by axis. */
export function shakeSection(bundle: ReportBundle): Markup {
  const { run, motion } = bundle;
  const [low, high] = run.motion.bandHz;
  const { angularShare } = run.motion;
  const share = angularShare.value;
  return html`<section aria-labelledby="shake">
    <h2 id="shake">Shake by axis</h2>
    <p>
      Slow movement below ${figure(low)} Hz counts as the intended move, the rest up to ${figure(high)} Hz as
      shake. RMS is the usual size of the shake; peak to peak is how far it swings, with the rarest 1 % left
      out.
    </p>
    ${
      share === null
        ? null
        : html`<figure class="share">
            ${trusted(shareBar(share, angularShare.ci95))}
            <figcaption>
              How much of the picture's shake is angular (one warp per frame removes it) and translational
              (near and far shift differently; no warp removes
              that).${angularShare.ci95 ? ' The bracket is the 95 % range.' : null}
            </figcaption>
          </figure>`
    }
    ${axisTable(bundle)} ${separationNote(bundle.run)} ${unreliableNote(bundle.run)}
    <div class="charts six">${AXES.map((axis) => axisChart(bundle, axis))}</div>
    <p class="legend">
      Solid: shake. Grey band: noise, two sigma to each side. Dashed strip above: the intended move, on a
      scale of its own. Dimmed ends (${figure(motion.trimFrames / motion.rateHz)} s) are left out of every
      figure. Axes of one kind share their scale where they are above the noise.
    </p>
    ${secondBySecond(bundle)}
  </section>`;
}

function numbersOf({ run }: ReportBundle, axis: Axis): { numbers: AxisNumbers; unit: string } {
  if (axis === 'pan' || axis === 'tilt' || axis === 'roll')
    return { numbers: angularNumbers(run.motion.angular[axis]), unit: '°' };
  return {
    numbers: translationNumbers(run.motion.translational[axis]),
    unit: run.motion.translational.unit === 'mm' ? 'mm' : '%',
  };
}

function axisTable(bundle: ReportBundle): Markup {
  const unreliable = new Set(bundle.run.motion.unreliable.map(({ axis }) => axis));
  const rows = AXES.map((axis): Insert[] => {
    const { numbers, unit } = numbersOf(bundle, axis);
    const { text, range } = axisFigure(numbers, unit);
    const shown = hasFigure(numbers.status);
    const { name, meaning } = axisNames(bundle.run)[axis];
    return [
      html`${name}${unreliable.has(axis) ? ' (not reliable)' : null}<span class="sub wide">${meaning}</span>`,
      html`${text}${range === '' ? null : html`<span class="sub">${range}</span>`}`,
      shown ? withUnit(cell(numbers.peakToPeak), unit) : '–',
      shown ? withUnit(cell(numbers.maximum), unit) : '–',
      numbers.status === 'notObservable' ? '–' : withUnit(cell(numbers.noise), unit),
      shown && numbers.dominantHz !== null ? `${figure(numbers.dominantHz)} Hz` : '–',
    ];
  });
  const unit = translationUnit(bundle.run);
  return table({
    caption: `Shake on six axes; angles in degrees, translations in ${unit}`,
    head: [
      'Axis',
      html`Shake, RMS<span class="sub">95 % range</span>`,
      'Peak to peak',
      'Largest',
      'Noise floor',
      'Strongest at',
    ],
    rows,
    numeric: [1, 2, 3, 4, 5],
    wideOnly: [3, 4],
  });
}

/** Factor from the series' unit to the printed one. */
function factorOf({ motion }: ReportBundle, axis: Axis): number {
  if (isAngular(axis)) return DEG;
  return motion.translationUnit === 'm' ? 1000 : 100;
}

function scaled(values: Float64Array, factor: number): Float64Array {
  return values.map((value) => value * factor);
}

function axisChart(bundle: ReportBundle, axis: Axis): Markup {
  const { motion } = bundle;
  const { numbers, unit } = numbersOf(bundle, axis);
  const { name } = axisNames(bundle.run)[axis];
  const { text } = axisFigure(numbers, unit);
  if (numbers.status === 'notObservable')
    return html`<figure class="chart-box">
      <figcaption><b>${name}</b> not observable</figcaption>
      <p class="empty">No curve: this clip does not show it.</p>
    </figure>`;
  const factor = factorOf(bundle, axis);
  const kin: readonly Axis[] = isAngular(axis) ? ANGULAR_AXES : TRANSLATIONAL_AXES;
  const clear = kin.filter((other) => hasFigure(motion.axes[other].status));
  const shared = Math.max(0, ...clear.map((other) => reachOf(motion.vibration[other])));
  const svg = motionChart({
    label: `${name} over time: ${text} RMS`,
    kind: isAngular(axis) ? 'angular' : 'translational',
    unit,
    timeS: motion.timeS,
    intended: scaled(motion.intended[axis], factor),
    vibration: scaled(motion.vibration[axis], factor),
    noise: motion.axes[axis].floor * factor,
    trimFrames: motion.trimFrames,
    ...(clear.includes(axis) ? { reach: shared * factor } : {}),
  });
  return html`<figure class="chart-box">
    <figcaption><b>${name}</b> ${text} RMS</figcaption>
    ${trusted(svg)}
  </figure>`;
}

/** RMS of the shake in stretches of a second or, for long clips, of a fortieth of the clip. */
function secondBySecond(bundle: ReportBundle): Markup {
  const { motion } = bundle;
  const n = motion.timeS.length;
  if (n === 0) return html``;
  const per = Math.max(Math.round(motion.rateHz), Math.ceil(n / 40));
  const rows: Insert[][] = [];
  for (let from = 0; from < n; from += per) {
    const to = Math.min(n, from + per);
    rows.push([
      `${figure(motion.timeS[from])} s`,
      ...AXES.map((axis) => {
        // A stretch of an axis under its noise floor would be a number made of noise alone.
        if (!hasFigure(motion.axes[axis].status)) return '–';
        let sum = 0;
        for (let i = from; i < to; i++) sum += motion.vibration[axis][i] ** 2;
        return figure(Math.sqrt(sum / (to - from)) * factorOf(bundle, axis));
      }),
    ]);
  }
  return behind({
    caption: `RMS as measured, noise included, in stretches of ${figure(per / motion.rateHz)} s (every frame is in motion.csv)`,
    head: [
      'From',
      ...AXES.map((axis) => `${axisNames(bundle.run)[axis].name}, ${numbersOf(bundle, axis).unit}`),
    ],
    rows,
    numeric: [1, 2, 3, 4, 5, 6],
  });
}
