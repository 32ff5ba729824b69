/**
 * The lanes of a floor seen from above: strips side by side along their length in metres (or in shares of the pass) from where the rear
 * axle starts, with shake by place, joints, the stretches to keep off, the directions rolled and the best lane.
 */
import { tickStep } from 'd3-array';
import { scaleLinear } from 'd3-scale';
import { symbol, symbolStar } from 'd3-shape';
import { figure, type LanePlan, type Units } from '../../run/index.js';
import { lanePlanTexts } from '../../texts/index.js';
import { placeUnit } from './axis-units.js';
import {
  LANE_SHADES,
  laneReachM,
  laneStrip,
  laneStripHeight,
  RIGHT_MARGIN,
  type LaneScales,
} from './lane-strip.js';
import { element, px, svgRoot, textElement } from './svg.js';
import { shorten } from './text-fit.js';

/** How the plan is drawn. */
export interface LanePlanOptions {
  /** 360 for a phone, 720 for a desk and for paper. */
  readonly widthPx: number;
  /** What those hear who do not see it. */
  readonly label: string;
  /** Prefix of the ids inside, so that several plans can stand on one page. */
  readonly id?: string;
  /** How lengths are printed; the axis is in feet for imperial. */
  readonly units?: Units;
}

const LEFT = 8;
const HEADING = 36;
const GAP = 12;
const FOOT = 84;
const STAR_PX2 = 90;
const CHARACTER = 6.4;

/** Draws the plan, lanes in the order given. @returns SVG text, `widthPx` wide, higher with more lanes */
export function lanePlanChart(
  plan: LanePlan,
  { widthPx, label, id = 'lanes', units = 'metric' }: LanePlanOptions,
): string {
  const { lanes, metric } = plan;
  const right = widthPx - RIGHT_MARGIN;
  const longest = Math.max(...lanes.map(laneReachM));
  const most = Math.max(...lanes.flatMap(({ places }) => places.shakePx), 0);
  const x = scaleLinear([0, longest || 1], [LEFT, right]);
  const topPx = roundUp(most || 1);
  const scales: LaneScales = { x, left: LEFT, right, topPx, metric, units, hatchId: `${id}-hatch` };
  let top = 0;
  const blocks = lanes.map((lane) => {
    const drawn =
      heading(lane, plan.best.lane === lane.name, top, widthPx) + laneStrip(lane, top + HEADING, scales);
    top += HEADING + laneStripHeight(lane, scales) + GAP;
    return drawn;
  });
  return svgRoot(
    widthPx,
    top + FOOT,
    label,
    hatching(scales.hatchId),
    ...blocks,
    foot(plan, top, longest, widthPx, scales),
  );
}

/** The next figure that is easy to say. @example roundUp(10.6) // 12 */
function roundUp(value: number): number {
  const decade = 10 ** Math.floor(Math.log10(value));
  return decade * ([1, 1.2, 1.5, 2, 2.5, 3, 4, 5, 6, 8].find((step) => step * decade >= value) ?? 10);
}

function hatching(id: string): string {
  return element(
    'defs',
    {},
    element(
      'pattern',
      { id, width: 7, height: 7, patternUnits: 'userSpaceOnUse', patternTransform: 'rotate(45)' },
      element('line', { class: 'keep-off-hatch', x1: 0, y1: 0, x2: 0, y2: 7 }),
    ),
  );
}

/** Name, figure and directions of a lane; the best one with a star and the word. */
function heading(lane: LanePlan['lanes'][number], best: boolean, top: number, widthPx: number): string {
  const { name, shakePx, directions, runs } = lane;
  const room = Math.floor((widthPx - 110) / CHARACTER) - (best ? 10 : 0);
  const star = best
    ? element('path', {
        class: 'best-lane',
        transform: `translate(${px(LEFT + 8)} ${px(top + 12)})`,
        d: symbol(symbolStar, STAR_PX2).digits(2)() ?? '',
      })
    : '';
  const said = best ? lanePlanTexts.best(shorten(name, room)) : shorten(name, room);
  const range = lanePlanTexts.shake(figure(shakePx.value), figure(shakePx.low), figure(shakePx.high));
  return [
    star,
    textElement({ class: 'lane-name', x: best ? LEFT + 22 : LEFT, y: top + 16 }, said),
    textElement(
      { x: LEFT, y: top + 30 },
      lanePlanTexts.shakeOfPasses(range, lanePlanTexts.passes(runs.length)),
    ),
    textElement(
      { class: 'lane-arrow', x: widthPx - 2, y: top + 16, 'text-anchor': 'end' },
      directions.map((direction) => lanePlanTexts.ways[direction]).join('  '),
    ),
  ].join('');
}

/** Under the lanes: the scale of places, where they start, a bar of known length, and the shades. */
function foot(
  plan: LanePlan,
  y: number,
  longest: number,
  widthPx: number,
  { x, right, topPx, metric, units }: LaneScales,
): string {
  const { unit, size } = metric ? placeUnit(units) : { unit: '', size: 1 };
  const across = scaleLinear([0, (longest || 1) / size], [LEFT, right]).ticks(widthPx < 500 ? 5 : 8);
  const ticks = across.map((at) =>
    [
      element('line', { class: 'tick', x1: x(at * size), x2: x(at * size), y1: y, y2: y + 4 }),
      textElement(
        { class: 'tick-label', x: x(at * size), y: y + 15, 'text-anchor': at === 0 ? 'start' : 'middle' },
        metric ? figure(at) : `${Math.round(100 * at)} %`,
      ),
    ].join(''),
  );
  return [
    element('line', { class: 'axis', x1: LEFT, x2: right, y1: y, y2: y }),
    ...ticks,
    element('path', { class: 'start-mark', d: `M${LEFT} ${px(y + 20)}l5 9h-10z` }),
    textElement({ class: 'start-label', x: LEFT + 9, y: y + 29 }, lanePlanTexts.start),
    textElement(
      { class: 'axis-title', x: right, y: y + 29, 'text-anchor': 'end' },
      metric ? lanePlanTexts.along(unit) : lanePlanTexts.alongPass,
    ),
    metric ? scaleBar(longest, x, y + 54, units) : '',
    shadeKey(topPx, plan.windowM, metric, y + 44, widthPx),
  ].join('');
}

/** A bar of a round length, about a sixth of the lane. */
function scaleBar(longest: number, x: (at: number) => number, y: number, units: Units): string {
  const { unit, size } = placeUnit(units);
  const length = tickStep(0, (longest || 1) / size, 6);
  const end = x(length * size);
  return [
    element('path', {
      class: 'scale-bar',
      d: `M${LEFT} ${px(y - 4)}v8M${LEFT} ${px(y)}H${px(end)}M${px(end)} ${px(y - 4)}v8`,
    }),
    textElement({ x: LEFT, y: y + 17 }, lanePlanTexts.length(figure(length), unit)),
  ].join('');
}

function shadeKey(topPx: number, windowM: number, metric: boolean, y: number, widthPx: number): string {
  const box = 22;
  const from = widthPx - 2 - LANE_SHADES * box;
  const window = metric
    ? lanePlanTexts.metres(figure(windowM))
    : lanePlanTexts.placeOfPass(Math.round(100 * windowM));
  return [
    ...Array.from({ length: LANE_SHADES }, (_, i) =>
      element('rect', { class: `shade-${i} key-box`, x: from + box * i, y, width: box, height: 11 }),
    ),
    textElement({ x: from, y: y + 23 }, '0'),
    textElement({ x: widthPx - 2, y: y + 23, 'text-anchor': 'end' }, `${figure(topPx)} px`),
    textElement({ x: widthPx - 2, y: y + 36, 'text-anchor': 'end' }, lanePlanTexts.shakeOver(window)),
  ].join('');
}
