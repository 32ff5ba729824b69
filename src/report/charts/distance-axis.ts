/** The axis along a run: distance from the start in m or ft, and under it the timecode at which the front axle is there. */
import { bisectLeft, tickIncrement, ticks as roundValues } from 'd3-array';
import { scaleLinear } from 'd3-scale';
import type { Units } from '../../run/index.js';
import { floorChartTexts as texts } from '../../texts/index.js';
import type { PlotArea } from './axes.js';
import { placeUnit } from './axis-units.js';
import { tickCount, type Stretch } from './live/stretch.js';
import { element, textElement } from './svg.js';
import { timecodeAt, type TimecodeBase } from './timecode-at.js';

/** When the front axle is where; survives JSON. */
export interface FrontAxle {
  /** Places, m, ascending, and the seconds from the container at which the front axle is there. */
  readonly placeM: readonly number[];
  readonly timeS: readonly number[];
  readonly clip: TimecodeBase;
}

/** What all charts along a run share. */
export interface AlongRun {
  readonly units: Units;
  /** Ends of the run, m from the place of the rear axle at the first frame. */
  readonly fromM: number;
  readonly toM: number;
  /** Null where no passage is known. */
  readonly front: FrontAxle | null;
}

/** Room under the plot, px: distance alone, and with timecode. */
const DISTANCE_ROOM = 36;
const BOTH_ROOM = 66;
const TIMECODE_PX = 78;
/** A finer scale than a hundredth of m or ft would pretend to know places better than a pass can tell them. */
const FINEST = 0.01;
const MOST_TICKS = 12;
/** The shortest stretch of a run that is shown, m: ten steps of the finest scale. */
export const CLOSEST_M = 0.1;

/** Room that the axis takes below the plot, px. */
export function distanceAxisRoom({ front }: AlongRun): number {
  return front === null ? DISTANCE_ROOM : BOTH_ROOM;
}

/** Places in px. */
export function distanceScale(area: PlotArea, [from, to]: Stretch) {
  return scaleLinear([from, to], [area.left, area.right]);
}

/** Draws both axes below a plot. @param from-to what the plot shows, m */
export function distanceAxis(run: AlongRun, area: PlotArea, [from, to]: Stretch): string {
  const { unit, size } = placeUnit(run.units);
  const x = distanceScale(area, [from, to]);
  const ticks = placeTicks([from / size, to / size], Math.min(MOST_TICKS, tickCount(area)));
  const { bottom, left, right, top } = area;
  const title = (y: number, text: string): string =>
    textElement({ class: 'axis-title', x: right, y, 'text-anchor': 'end' }, text);
  return [
    ...ticks.map((value) => {
      const at = x(value * size);
      return [
        element('line', { class: 'grid', x1: at, x2: at, y1: top, y2: bottom }),
        element('line', { class: 'tick', x1: at, x2: at, y1: bottom, y2: bottom + 4 }),
        textElement({ class: 'tick-label', x: at, y: bottom + 15, 'text-anchor': 'middle' }, String(value)),
      ].join('');
    }),
    element('line', { class: 'axis', x1: left, x2: right, y1: bottom, y2: bottom }),
    title(bottom + 28, texts.distanceAxis(unit)),
    run.front === null
      ? ''
      : timecodes(
          run.front,
          ticks.map((value) => value * size),
          x,
          area,
        ) + title(bottom + 62, texts.timecodeAxis),
  ].join('');
}

/** Round places, about so many, never finer than the finest scale. */
function placeTicks([from, to]: Stretch, about: number): number[] {
  let count = about;
  // Steps below one are told as the negative number of steps in one.
  const stepOf = (increment: number): number => (increment < 0 ? -1 / increment : increment);
  while (count > 1 && stepOf(tickIncrement(from, to, count)) < FINEST - 1e-9) count--;
  return roundValues(from, to, count);
}

function timecodes(
  front: FrontAxle,
  places: readonly number[],
  x: (at: number) => number,
  { left, right, bottom }: PlotArea,
): string {
  const y = bottom + 34;
  let free = left;
  let before = '';
  const labels = places.map((place) => {
    const timecode = frontTimecode(front, place);
    const at = x(place);
    if (timecode === null || at < left - 0.5 || at > right + 0.5) return '';
    const mark = element('line', { class: 'tick', x1: at, x2: at, y1: y, y2: y + 4 });
    const middle = Math.min(Math.max(at, left + TIMECODE_PX / 2 - 6), right - TIMECODE_PX / 2 + 8);
    // Places that the dolly passes within one frame share its timecode: it is told at the first.
    if (timecode === before || Math.abs(middle - at) > 12 || middle - TIMECODE_PX / 2 < free) return mark;
    free = middle + TIMECODE_PX / 2;
    before = timecode;
    return (
      mark + textElement({ class: 'tick-label', x: middle, y: y + 15, 'text-anchor': 'middle' }, timecode)
    );
  });
  const { placeM } = front;
  const begins = Math.min(Math.max(x(placeM[0] ?? 0), left), right);
  const ends = Math.min(Math.max(x(placeM[placeM.length - 1] ?? 0), left), right);
  return [element('line', { class: 'axis', x1: begins, x2: ends, y1: y, y2: y }), ...labels].join('');
}

/** Seconds from the container at which the front axle is at a place, m; null where it never is within the clip. */
export function frontTimeS({ placeM, timeS }: FrontAxle, atM: number): number | null {
  const n = placeM.length;
  if (n === 0 || atM < placeM[0] || atM > placeM[n - 1]) return null;
  const i = Math.max(1, bisectLeft(placeM, atM));
  const share = n > 1 ? (atM - placeM[i - 1]) / (placeM[i] - placeM[i - 1] || 1) : 0;
  return n > 1 ? timeS[i - 1] + share * (timeS[i] - timeS[i - 1]) : timeS[0];
}

/** The same as timecode, drop-frame where the clip's label is. */
export function frontTimecode(front: FrontAxle, atM: number): string | null {
  const atS = frontTimeS(front, atM);
  return atS === null ? null : timecodeAt(front.clip, atS);
}

/** A place in words with the timecode at which the front axle is there. @example "0.71 m, front axle there at 00:00:00:22" */
export function placeAlong({ front }: AlongRun, atM: number): string {
  const distance = `${atM.toFixed(2)} m`;
  if (front === null) return texts.place(distance);
  const timecode = frontTimecode(front, atM);
  if (timecode !== null) return texts.frontAt(distance, timecode);
  return atM < (front.placeM[0] ?? 0) ? texts.frontBefore(distance) : texts.place(distance);
}
