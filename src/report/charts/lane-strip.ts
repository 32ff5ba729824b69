/**
 * One lane of the lane plan: shake by place as a profile and as a strip of six even shades, its joints as ticks, the stretches to keep
 * off hatched and named in words.
 */
import type { LanePlan } from '../../run/index.js';
import { figure, inUnits, type Units } from '../../run/index.js';
import { lanePlanTexts } from '../../texts/index.js';
import { element, px, textElement } from './svg.js';

type Lane = LanePlan['lanes'][number];

/** What every lane of a plan shares. */
export interface LaneScales {
  /** From a place, as the plan counts it, to px. */
  readonly x: (at: number) => number;
  /** Ends of the plot, px. */
  readonly left: number;
  readonly right: number;
  /** The shake that fills the profile and the darkest shade, px RMS; above zero. */
  readonly topPx: number;
  /** Places are metres; false: shares of the pass, printed in per cent. */
  readonly metric: boolean;
  /** How lengths are printed. */
  readonly units: Units;
  /** Pattern of the hatching. */
  readonly hatchId: string;
}

/** Shades of the strip, the darkest last; classes shade-0 to shade-5. */
export const LANE_SHADES = 6;

/** Room at the right of the plot for its scale, px. */
export const RIGHT_MARGIN = 46;

/** A stretch is drawn at least this wide, px. */
const MIN_STRETCH = 5;
const PROFILE = 36;
const SHADE = 12;
const WORDS_ROW = 15;
const JOINT_ROW = 20;
/** Joints whose height is printed. */
const NAMED_JOINTS = 3;
/** Width of a character, px. */
const CHARACTER = 6.2;

/** A stretch in words. @example stretchWords({ fromM: 2.1, toM: 2.9 }, true) // "2.1 to 2.9 m" */
export function stretchWords(
  { fromM, toM }: { readonly fromM: number; readonly toM: number },
  metric: boolean,
): string {
  return metric
    ? lanePlanTexts.stretch(figure(fromM), figure(toM))
    : lanePlanTexts.stretchOfPass(Math.round(100 * fromM), Math.round(100 * toM));
}

/**
 * How far the lane is drawn: the way of the rear axle, and on to the last joint. The front wheels roll a wheelbase farther than the rear
 * ones, and meet joints there.
 */
export function laneReachM({ lengthM, joints: all }: Lane): number {
  return Math.max(lengthM, ...all.map(({ atM }) => atM));
}

/** Height that the lane takes below its heading, px. */
export function laneStripHeight(lane: Lane, scales: LaneScales): number {
  return WORDS_ROW * wordRows(lane, scales).rows + PROFILE + SHADE + (lane.joints.length > 0 ? JOINT_ROW : 0);
}

/** Draws the lane with its upper edge at `top`. */
export function laneStrip(lane: Lane, top: number, scales: LaneScales): string {
  const { rows, placed } = wordRows(lane, scales);
  const profileTop = top + WORDS_ROW * rows;
  const base = profileTop + PROFILE;
  const { x, right, topPx } = scales;
  const end = x(lane.lengthM);
  return [
    element('rect', { class: 'strip', x: x(0), y: profileTop, width: end - x(0), height: PROFILE }),
    ...placed.map(({ from, to, at, row, words }) => {
      const y = top + WORDS_ROW * row + 11;
      return [
        element('rect', {
          class: 'keep-off',
          fill: `url(#${scales.hatchId})`,
          x: from,
          y: profileTop,
          width: Math.max(MIN_STRETCH, to - from),
          height: PROFILE + SHADE,
        }),
        element('line', {
          class: 'keep-off-line',
          x1: (from + to) / 2,
          x2: (from + to) / 2,
          y1: y + 3,
          y2: profileTop,
        }),
        textElement({ class: 'keep-off-label', x: at, y, 'text-anchor': 'middle' }, words),
      ].join('');
    }),
    beyondEnd(lane, profileTop, scales),
    profile(lane, base, scales),
    ...shades(lane, base, scales),
    element('line', { class: 'axis', x1: x(0), x2: end, y1: base + SHADE, y2: base + SHADE }),
    element('line', { class: 'axis', x1: end, x2: end, y1: profileTop, y2: base + SHADE }),
    element('line', {
      class: 'start-line',
      x1: x(0),
      x2: x(0),
      y1: profileTop,
      y2: base + SHADE,
    }),
    textElement({ x: right + 5, y: profileTop + 8 }, `${figure(topPx)} px`),
    textElement({ x: right + 5, y: base }, '0'),
    ...joints(lane, base + SHADE, scales),
  ].join('');
}

/** The part that only the front wheels rolled over; nothing where no joint lies there. */
function beyondEnd(lane: Lane, profileTop: number, { x }: LaneScales): string {
  const [end, reach] = [x(lane.lengthM), x(laneReachM(lane))];
  if (reach <= end) return '';
  const height = PROFILE + SHADE;
  return element('path', {
    class: 'beyond-end',
    d: `M${px(end)} ${px(profileTop)}H${px(reach)}v${height}H${px(end)}`,
  });
}

interface PlacedWords {
  readonly from: number;
  readonly to: number;
  /** Middle of the words. */
  readonly at: number;
  readonly row: number;
  readonly words: string;
}

/** Words of the stretches above the profile, in as many rows as it takes for none to cover another. */
function wordRows(
  { avoid }: Lane,
  { x, left, right, metric, units }: LaneScales,
): { rows: number; placed: PlacedWords[] } {
  const ends: number[] = [];
  const placed = [...avoid]
    .sort((a, b) => a.fromM - b.fromM)
    .map((stretch) => {
      // In the units of the reader already: the words must have room.
      const words = inUnits(lanePlanTexts.keepOff(stretchWords(stretch, metric)), units);
      const half = (CHARACTER * words.length) / 2;
      const [from, to] = [x(stretch.fromM), x(stretch.toM)];
      const at = Math.max(left + half, Math.min(right - half, (from + to) / 2));
      const free = ends.findIndex((end) => end + 12 < at - half);
      const row = free < 0 ? ends.length : free;
      ends[row] = at + half;
      return { from, to, at, row, words };
    });
  return { rows: ends.length, placed };
}

/** Borders of the places: half way between neighbours, and the ends of the lane. */
function borders({ places, lengthM }: Lane): number[] {
  const { atM } = places;
  return [0, ...atM.slice(1).map((at, i) => (at + atM[i]) / 2), lengthM];
}

function profile(lane: Lane, base: number, { x, topPx }: LaneScales): string {
  const { shakePx } = lane.places;
  if (shakePx.length === 0) return '';
  const edges = borders(lane);
  const y = (value: number): number => base - (PROFILE - 2) * Math.min(1, Math.max(0, value / topPx));
  const steps = shakePx.map((value, i) => `V${px(y(value))}H${px(x(edges[i + 1]))}`).join('');
  return element('path', { class: 'lane-profile', d: `M${px(x(0))} ${px(base)}${steps}V${px(base)}z` });
}

/** The strip of shades; neighbours of one shade are one rectangle. */
function shades(lane: Lane, base: number, { x, topPx }: LaneScales): string[] {
  const edges = borders(lane);
  const steps = lane.places.shakePx.map((value) =>
    Math.min(LANE_SHADES - 1, Math.max(0, Math.floor((LANE_SHADES * value) / topPx))),
  );
  const runs = steps.flatMap((shade, i) => (i === 0 || steps[i - 1] !== shade ? [i] : []));
  return runs.map((from, i) => {
    const to = runs[i + 1] ?? steps.length;
    return element('rect', {
      class: `shade-${steps[from]}`,
      x: x(edges[from]),
      y: base,
      width: x(edges[to]) - x(edges[from]),
      height: SHADE,
    });
  });
}

function joints({ joints: all }: Lane, y: number, { x, left, right, units }: LaneScales): string[] {
  const ticks = all.map(({ atM }) =>
    element('line', { class: 'joint', x1: x(atM), x2: x(atM), y1: y - SHADE - 4, y2: y + 6 }),
  );
  const named: number[] = [];
  const words = [...all]
    .sort((a, b) => Math.abs(b.heightMm) - Math.abs(a.heightMm))
    .slice(0, NAMED_JOINTS)
    .flatMap(({ atM, heightMm }) => {
      const text = inUnits(lanePlanTexts.jointHeight(figure(Math.abs(heightMm))), units);
      const half = (CHARACTER * text.length) / 2;
      // The scale of shake ends above this row: a label may stand under it.
      const at = Math.max(left + half, Math.min(right + RIGHT_MARGIN - half, x(atM)));
      if (named.some((other) => Math.abs(other - at) < 2 * half + 4)) return [];
      named.push(at);
      return [textElement({ class: 'joint-label', x: at, y: y + 17, 'text-anchor': 'middle' }, text)];
    });
  return [...ticks, ...words];
}
