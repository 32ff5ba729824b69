/** What all rows of the time line share: dimmed ends, marks of the floor along the top, and under the last row seconds, timecode and place. */
import { bisectLeft, ticks } from 'd3-array';
import { motionTexts } from '../../../texts/index.js';
import type { PlotArea } from '../axes.js';
import { tickCount, type Stretch } from '../live/stretch.js';
import { element, textElement } from '../svg.js';
import { tickLabels } from '../tick-decimals.js';
import { timecodeAt } from '../timecode-at.js';
import { timeOf, type TimelineData, type TimelinePlaces } from './data.js';
import type { TimelineLayout } from './layout.js';
import type { TimeScale } from './rows.js';

/** Room for a timecode and the gap to the next, for a place, for a number of the floor list, px. */
const TIMECODE_PX = 78;
const PLACE_PX = 36;
const MARK_PX = 13;
/** Mean width of a digit or colon of small print, which is a seventh larger on paper, and how far a label may reach beyond the plot, px. */
const LETTER_PX = 7.4;
const OVERHANG_PX = 8;

/** Upright lines at the times that are named, in every row. */
export function timeGrid({ rows, area }: TimelineLayout, x: TimeScale, shown: Stretch): string {
  return timeTicks(area, shown)
    .flatMap((atS) =>
      rows.map(({ plot }) =>
        plot === null
          ? ''
          : element('line', { class: 'grid', x1: x(atS), x2: x(atS), y1: plot.top, y2: plot.bottom }),
      ),
    )
    .join('');
}

function timeTicks(area: PlotArea, [from, to]: Stretch): number[] {
  return ticks(from, to, tickCount(area, TIMECODE_PX));
}

/** The ends that no statistic uses, dimmed in every row. */
export function dimmedEnds(data: TimelineData, { rows }: TimelineLayout, x: TimeScale): string {
  const trim = Math.min(data.trimFrames, Math.floor(data.count / 2));
  if (trim <= 0) return '';
  const inner = [x(timeOf(data, trim)), x(timeOf(data, data.count - 1 - trim))];
  return rows
    .flatMap(({ plot }) => {
      if (plot === null) return [];
      return [
        [plot.left, Math.min(plot.right, inner[0])],
        [Math.max(plot.left, inner[1]), plot.right],
      ].map(([x1, x2]) =>
        x2 > x1
          ? element('rect', {
              class: 'unused',
              x: x1,
              y: plot.top,
              width: x2 - x1,
              height: plot.bottom - plot.top,
            })
          : '',
      );
    })
    .join('');
}

/**
 * Joints and bumps by number along the top, each with a line through every row: bold for the front axle, light for the rear one. Numbers
 * of the front axle take their room first; one that would touch another is left out.
 */
export function floorMarks(
  { marks }: TimelineData,
  { area, rows }: TimelineLayout,
  x: TimeScale,
  [from, to]: Stretch,
): string {
  if (marks.length === 0) return '';
  const within = marks.filter(({ atS }) => atS >= from && atS <= to);
  const seen = (['front', 'rear'] as const).flatMap((one) => within.filter(({ axle }) => axle === one));
  const taken: number[] = [];
  const numbers = seen.map(({ atS, axle, mark }) => {
    const at = x(atS);
    if (mark === '' || taken.some((other) => Math.abs(other - at) < MARK_PX)) return '';
    taken.push(at);
    const className = axle === 'front' ? 'peak-label' : 'tick-label';
    return textElement({ class: className, x: at, y: area.top - 8, 'text-anchor': 'middle' }, mark);
  });
  // The words over the rows stay free of them.
  const stretches = [
    [area.top - 4, area.top],
    ...rows.flatMap(({ strip, plot }) =>
      plot === null ? [] : [[strip === null ? plot.top : strip.top, plot.bottom]],
    ),
  ];
  const lines = seen.flatMap(({ atS, axle }) =>
    stretches.map(([y1, y2]) => {
      const className = axle === 'front' ? 'bump' : 'bump-rear';
      return element('line', { class: className, x1: x(atS), x2: x(atS), y1, y2 });
    }),
  );
  return [
    textElement({ class: 'axis-title', x: 0, y: area.top - 8 }, motionTexts.floorNumbers),
    ...lines,
    ...numbers,
  ].join('');
}

/** Seconds, and under them timecodes. */
export function timeAxis({ clip }: TimelineData, area: PlotArea, x: TimeScale, shown: Stretch): string {
  const { left, right, bottom } = area;
  const at = timeTicks(area, shown);
  const seconds = tickLabels(at);
  return [
    element('line', { class: 'axis', x1: left, x2: right, y1: bottom, y2: bottom }),
    textElement({ class: 'axis-title', x: 0, y: bottom + 14 }, motionTexts.timeAxis),
    textElement({ class: 'axis-title', x: 0, y: bottom + 27 }, motionTexts.timecodeAxis),
    ...at.map((atS, i) =>
      [
        element('line', { class: 'tick', x1: x(atS), x2: x(atS), y1: bottom, y2: bottom + 4 }),
        textElement({ class: 'tick-label', x: x(atS), y: bottom + 14, 'text-anchor': 'middle' }, seconds[i]),
      ].join(''),
    ),
    ...timecodeLabels(
      at.map((atS) => ({ at: x(atS), text: timecodeAt(clip, atS) })),
      area,
    ),
  ].join('');
}

/** Each under its tick but never beyond the plot; one that would touch the one before is left out. */
function timecodeLabels(
  labels: readonly { readonly at: number; readonly text: string }[],
  { left, right, bottom }: PlotArea,
): string[] {
  let free = -Infinity;
  return labels.map(({ at, text }) => {
    const half = (text.length * LETTER_PX) / 2;
    const middle = Math.min(Math.max(at, left + half), right + OVERHANG_PX - half);
    if (middle - half < free) return '';
    free = middle + half + LETTER_PX / 2;
    return textElement({ class: 'tick-label', x: middle, y: bottom + 27, 'text-anchor': 'middle' }, text);
  });
}

/** Round places of the rear axle, each where the dolly comes past it; places that crowd together while it stands are thinned. */
export function placeAxis(
  places: TimelinePlaces,
  { left, right, bottom }: PlotArea,
  x: TimeScale,
  [from, to]: Stretch,
): string {
  const line = bottom + 36;
  const { place, fromS, stepS, unit } = places;
  const last = place.length - 1;
  const at = ticks(place[0], place[last], tickCount({ left, right, top: 0, bottom: 0 }, PLACE_PX * 1.8));
  const labels = tickLabels(at);
  let before = -Infinity;
  const marks = at.map((value, i) => {
    const next = Math.max(1, bisectLeft(place, value));
    const step = place[next] - place[next - 1];
    const atS = fromS + stepS * (next - 1 + (step > 0 ? (value - place[next - 1]) / step : 0));
    const px = x(atS);
    if (atS < from || atS > to || px - before < PLACE_PX) return '';
    before = px;
    return [
      element('line', { class: 'tick', x1: px, x2: px, y1: line, y2: line + 4 }),
      textElement({ class: 'tick-label', x: px, y: line + 15, 'text-anchor': 'middle' }, labels[i]),
    ].join('');
  });
  return [
    element('line', { class: 'axis', x1: left, x2: right, y1: line, y2: line }),
    textElement({ class: 'axis-title', x: 0, y: line + 15 }, motionTexts.placeAxis(unit)),
    ...marks,
  ].join('');
}
