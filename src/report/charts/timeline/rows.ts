/** One row of the time line: shake over its noise band, and above it, on a scale of its own, the intended move. */
import { extent } from 'd3-array';
import { scaleLinear } from 'd3-scale';
import { line } from 'd3-shape';
import { motionTexts } from '../../../texts/index.js';
import { figure } from '../../../run/index.js';
import { leftAxis, type PlotArea } from '../axes.js';
import { clipped, type Stretch } from '../live/stretch.js';
import { element, escapeText, textElement } from '../svg.js';
import { thinOut } from '../thin-out.js';
import { tickLabels } from '../tick-decimals.js';
import { timeOf, type EvenSeries, type TimelineAxis, type TimelineCurve, type TimelineData } from './data.js';
import type { TimelineRow } from './layout.js';

/** From time in seconds to px. */
export type TimeScale = (atS: number) => number;

/** Room that a letter of the words over a row takes, px. */
const LETTER_PX = 6;

/** From the value of a curve to px. */
export function valueScale({ reach, noise }: TimelineCurve, { top, bottom }: PlotArea): TimeScale {
  const half = 1.08 * (Math.max(reach, 2 * noise) || 1);
  return scaleLinear([-half, half], [bottom, top]);
}

/** Draws a row; a quiet one is its words alone. */
export function timelineRow(
  data: TimelineData,
  row: TimelineRow,
  x: TimeScale,
  shown: Stretch,
  narrow: boolean,
): string {
  const { axis, plot, strip } = row;
  const { curve } = axis;
  if (curve === null || plot === null) return title(row, narrow, '');
  return [
    title(row, narrow, strip === null ? '' : moveWords(axis, curve)),
    strip === null ? '' : moveStrip(data, curve.intended, strip, x),
    shake(data, axis, curve, plot, x, shown),
  ].join('');
}

/** Name and size at the left; at the right the range of the intended move where there is room. */
function title({ axis, titleY, left, right }: TimelineRow, narrow: boolean, move: string): string {
  const nameEnd = left + (axis.name.length + 1) * (LETTER_PX + 1);
  const words = narrow ? wordsThatFit(axis, right - nameEnd) : axis.words;
  const fits = nameEnd + (words.length + move.length + 2) * LETTER_PX < right;
  return [
    element(
      'text',
      { class: 'row-title', x: left, y: titleY },
      element('tspan', { class: 'row-name' }, escapeText(axis.name)),
      element('tspan', { dx: 5 }, escapeText(words)),
    ),
    move !== '' && fits
      ? textElement({ class: 'tick-label', x: right, y: titleY, 'text-anchor': 'end' }, move)
      : '',
  ].join('');
}

/** The short words; on the smallest phones those of a reading where a bound is too long to stand there. */
function wordsThatFit({ shortWords, quietWords }: TimelineAxis, roomPx: number): string {
  return quietWords === '' || shortWords.length * LETTER_PX < roomPx ? shortWords : quietWords;
}

function moveWords({ unit }: TimelineAxis, { intended }: TimelineCurve): string {
  const [low = 0, high = 0] = extent(intended.values);
  return motionTexts.moveRange(signed(low), `${signed(high)}${unit === '°' ? '' : ' '}${unit}`);
}

function signed(value: number): string {
  const text = figure(Math.abs(value));
  return value < 0 && Number(text) !== 0 ? `−${text}` : text;
}

function moveStrip(data: TimelineData, { every, values }: EvenSeries, strip: PlotArea, x: TimeScale): string {
  const [low = 0, high = 0] = extent(values);
  const flat = high - low < 1e-12;
  const y = scaleLinear(flat ? [low - 1, high + 1] : [low, high], [strip.bottom - 2, strip.top + 2]);
  const curve = line<number>()
    .x((_, i) => x(timeOf(data, i * every)))
    .y((value) => y(value))
    .digits(2)(values);
  return [
    element('rect', { class: 'strip', ...boxOf(strip) }),
    clipped(strip, element('path', { class: 'intended', d: curve ?? '' })),
  ].join('');
}

function shake(
  data: TimelineData,
  { kind, unit }: TimelineAxis,
  curve: TimelineCurve,
  plot: PlotArea,
  x: TimeScale,
  [from, to]: Stretch,
): string {
  const { at, shake: values, noise, reach } = curve;
  const y = valueScale(curve, plot);
  const half = Math.max(reach, 2 * noise) || 1;
  const ticks = scaleLinear([-half, half], [0, 1]).ticks(3);
  const labels = tickLabels(ticks);
  const first = Math.max(0, storedBefore(at, (from - data.fromS) * data.rateHz));
  const end = Math.min(values.length, storedBefore(at, (to - data.fromS) * data.rateHz) + 2);
  const drawn = thinOut(values, plot.right - plot.left, first, end);
  const path = line<number>()
    .x((i) => x(timeOf(data, at === null ? i : at[i])))
    .y((i) => y(values[i]))
    .digits(2)(drawn);
  const band = { left: plot.left, right: plot.right, top: y(2 * noise), bottom: y(-2 * noise) };
  return [
    leftAxis(
      plot,
      ticks.map((value, i) => ({ at: y(value), label: labels[i] })),
      unit,
    ),
    element('rect', { class: 'noise-band', ...boxOf(band) }),
    clipped(plot, element('path', { class: `series ${kind}`, d: path ?? '' })),
  ].join('');
}

/** Index of the last stored sample at or before a sample; -1 before the first. */
export function storedBefore(at: readonly number[] | null, sample: number): number {
  if (at === null) return Math.floor(sample);
  let low = -1;
  let high = at.length;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (at[middle] <= sample) low = middle;
    else high = middle;
  }
  return low;
}

function boxOf({ left, top, right, bottom }: PlotArea): Record<'x' | 'y' | 'width' | 'height', number> {
  return { x: left, y: top, width: Math.max(0, right - left), height: Math.max(0, bottom - top) };
}
