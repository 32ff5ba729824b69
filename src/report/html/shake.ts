/** The shake by axis: what this run shows, the table of the six axes, and their motion along the clip. */
import { AXES, figure, hasFigure, toldShare, type Axis, type RunDocument } from '../../run/index.js';
import { motionTexts } from '../../texts/index.js';
import { shareBar } from '../charts/index.js';
import { axisFigure, cell, withUnit } from '../format.js';
import type { ReportBundle } from '../types.js';
import { axisNames, translationUnit } from '../wording.js';
import { numbersOf, pictureShakes } from './axis-numbers.js';
import { figureUnit, seriesUnit, sentenceUnit } from './axis-units.js';
import { liveFigure } from './live-figure.js';
import { html, trusted, type Insert, type Markup } from './markup.js';
import { separationNote, unreliableNote } from './separation.js';
import { timelineData } from './shake-timeline.js';
import { largestSwingWords, shakeWords } from './shake-words.js';
import { behind, table } from './table.js';

/** Widths of the drawings on a desk and on a phone, px. */
const DESK_PX = 1080;
const PHONE_PX = 360;
/** A table of long clips has so many rows at most. */
const MOST_ROWS = 40;

/** The section on shake by axis. */
export function shakeSection(bundle: ReportBundle): Markup {
  const { run } = bundle;
  return html`<section aria-labelledby="shake">
    <h2 id="shake">${motionTexts.heading}</h2>
    <p class="lead">${shakeWords(bundle)}</p>
    ${shareFigure(bundle)} ${axisTable(bundle)} ${separationNote(run)} ${unreliableNote(run)}
    <h3>${motionTexts.lineHeading}</h3>
    <p>${largestSwingWords(bundle)}</p>
    ${timeline(bundle)}
  </section>`;
}

function shareFigure({ run }: ReportBundle): Markup | null {
  const told = toldShare(run.motion);
  // A border that may lie almost anywhere is no picture of a share.
  if (told.as !== 'figure') return null;
  const { share, ci95 } = told;
  return html`<figure class="share">
    ${trusted(shareBar(share, ci95))}
    <figcaption>${motionTexts.shareCaption} ${ci95 && motionTexts.range95}</figcaption>
  </figure>`;
}

function axisTable(bundle: ReportBundle): Markup {
  const { run } = bundle;
  const { heads, none, notReliable } = motionTexts;
  const unreliable = new Set(run.motion.unreliable.map(({ axis }) => axis));
  const shifts = new Map(pictureShakes(bundle).map(({ axis, px }) => [axis, px]));
  const rows = AXES.map((axis): Insert[] => {
    const numbers = numbersOf(run, axis);
    const unit = sentenceUnit(axis, run);
    const { text, range } = axisFigure(numbers, unit);
    const shown = hasFigure(numbers.status);
    const px = shifts.get(axis);
    const { name, meaning } = axisNames(run)[axis];
    return [
      html`${name}${unreliable.has(axis) ? notReliable : null}<span class="sub wide">${meaning}</span>`,
      html`${text}${range === '' ? null : html`<span class="sub">${shown ? withUnit(range, unit) : range}</span>`}`,
      px === undefined ? none : withUnit(figure(px), 'px'),
      shown ? withUnit(cell(numbers.peakToPeak), unit) : none,
      shown ? withUnit(cell(numbers.maximum), unit) : none,
      numbers.status === 'notObservable' ? none : withUnit(cell(numbers.noise), unit),
      shown && numbers.dominantHz !== null ? withUnit(figure(numbers.dominantHz), 'Hz') : none,
    ];
  });
  return table({
    caption: motionTexts.tableCaption(translationWords(run)),
    head: [
      heads.axis,
      html`${heads.shake}<span class="sub">${heads.range}</span>`,
      html`${heads.picture}<span class="sub">${heads.pictureUnit}</span>`,
      heads.peakToPeak,
      heads.largest,
      heads.noise,
      heads.strongest,
    ],
    rows,
    numeric: [1, 2, 3, 4, 5, 6],
    wideOnly: [3, 4, 5],
  });
}

function timeline(bundle: ReportBundle): Markup {
  const { motion, run } = bundle;
  const data = timelineData(bundle);
  const [low, high] = run.motion.bandHz;
  const legend = [
    motionTexts.legend(figure(low), figure(high), figure(motion.trimFrames / motion.rateHz)),
    ...(data.places === null ? [] : [motionTexts.legendPlaces]),
    ...(data.marks.length === 0 ? [] : [motionTexts.legendMarks]),
  ];
  return liveFigure({
    kind: 'timeline',
    data,
    caption: null,
    widthPx: DESK_PX,
    phoneWidthPx: PHONE_PX,
    after: html`<p class="legend">${legend.join(' ')}</p>
      ${secondBySecond(bundle)}`,
  });
}

/** RMS of the shake in stretches of a second or, for long clips, of a fortieth of the clip. */
function secondBySecond({ run, motion }: ReportBundle): Markup | null {
  const n = motion.timeS.length;
  if (n === 0) return null;
  const per = Math.max(Math.round(motion.rateHz), Math.ceil(n / MOST_ROWS));
  const unitOf = (axis: Axis) => seriesUnit(axis, motion, run);
  const rows = Array.from({ length: Math.ceil(n / per) }, (_, k): Insert[] => {
    const [from, to] = [k * per, Math.min(n, (k + 1) * per)];
    return [
      motionTexts.secondsAt(figure(motion.timeS[from])),
      ...AXES.map((axis) => {
        // A stretch of an axis under its noise floor would be a number made of noise alone.
        if (!hasFigure(motion.axes[axis].status)) return motionTexts.none;
        const stretch = motion.vibration[axis].subarray(from, to);
        const meanSquare = stretch.reduce((sum, value) => sum + value * value, 0) / stretch.length;
        return figure(Math.sqrt(meanSquare) * unitOf(axis).factor);
      }),
    ];
  });
  return behind({
    caption: motionTexts.secondsCaption(figure(per / motion.rateHz)),
    head: [
      motionTexts.secondsFrom,
      ...AXES.map((axis) => motionTexts.axisIn(axisNames(run)[axis].name, unitOf(axis).unit)),
    ],
    rows,
    numeric: [1, 2, 3, 4, 5, 6],
  });
}

/** The unit of translations as the caption of the table names it; per cent with of what. */
function translationWords(run: RunDocument): string {
  const { unit } = figureUnit('axial', run);
  return unit === '%' ? translationUnit(run) : unit;
}
