/**
 * The run seen from above, to scale along the distance: wheel lines with shades for how much they rise and fall, each joint and bump at
 * its place, numbered as in the list, and the row of joints with its spacing.
 */
import { figure, worstHeightMm } from '../../run/index.js';
import { floorChartTexts as texts } from '../../texts/index.js';
import type { PlotArea } from './axes.js';
import { CLOSEST_M, distanceAxis, distanceAxisRoom, distanceScale, placeAlong } from './distance-axis.js';
import type { FloorStripData, StripBump, StripLine } from './floor-strip-data.js';
import { stripKey } from './floor-strip-key.js';
import { bumpMark, placeMarks } from './floor-strip-marks.js';
import { shadeOf, stripShades, type Shades } from './floor-strip-shades.js';
import { nearestIndex, stopsWithin, stretchOf, clipped, type Stretch } from './live/stretch.js';
import type { ChartKind, ChartView, DrawnChart, ReadValue, Reading } from './live/types.js';
import { element, px, svgRoot, textElement } from './svg.js';

const LEFT = 46;
const RIGHT_MARGIN = 14;
const TOP_ROW = 20;
const JOINT_ROW = 24;
const MARK_ROW = 14;
const LINE = 20;
const GAP = 34;
const FOOT = 12;
/** Around the lines, so that the highest marks stay inside. */
const AIR = 6;
/** Half of a line that runs along the end, and half of the widest mark, px. */
const EDGE = 0.5;
const MARK_REACH = 10;
/** Mean width of a letter of small print, px. */
const LETTER_PX = 6;
/** From this width on the direction is told in full. */
const ROOMY = 480;
/** A bump this near to the place that is read is the place, as a share of what is shown. */
const SNAP = 0.008;

/** Where everything is, px. */
interface Layout {
  readonly area: PlotArea;
  readonly x: (at: number) => number;
  readonly widthPx: number;
  /** Middle of each line, in the order of `lines`. */
  readonly lineY: readonly number[];
  readonly bracketY: number;
  readonly mostMm: number;
}

function draw(data: FloorStripData, view: ChartView): DrawnChart {
  const shown = stretchOf([data.fromM, data.toM], view);
  const layout = layOut(data, view, shown);
  const { area, widthPx } = layout;
  const shades = stripShades(data);
  const keyTop = area.bottom + distanceAxisRoom(data) + FOOT;
  const key = stripKey(data, shades, layout.mostMm, keyTop, widthPx);
  const svg = svgRoot(
    widthPx,
    keyTop + key.heightPx + 2,
    texts.stripLabel(data.bumps.length, `${figure(data.toM - data.fromM)} m`),
    distanceAxis(data, area, shown),
    // A part of the run is cut where its plot ends.
    clipped(
      { ...area, left: area.left - EDGE, right: area.right + EDGE, top: 0 },
      jointRow(data, layout),
      ...wheelLines(data, shades, layout, shown),
      ...ties(data, layout),
    ),
    jointRowWords(data, layout),
    clipped(
      // Marks at the ends are whole.
      { ...area, left: area.left - MARK_REACH, right: area.right + MARK_REACH, top: 0 },
      ...data.bumps
        .filter(({ atM }) => atM >= shown[0] && atM <= shown[1])
        .map((bump) => marksOf(bump, data.lines, layout))
        .flat()
        .reverse(),
      ...numbers(data, layout),
    ),
    ...data.lines.map(({ id }, i) =>
      textElement({ class: 'line-name', x: 0, y: layout.lineY[i] + 4 }, texts[id]),
    ),
    ends(layout, shown),
    key.svg,
  );
  const places = data.bumps.map(({ atM }) => atM).sort((a, b) => a - b);
  return {
    svg,
    area,
    domain: shown,
    log: false,
    read: (at) => read(data, layout, shown, at),
    stops: stopsWithin(places.length > 0 ? places : data.distanceM, shown),
  };
}

function layOut(data: FloorStripData, { widthPx }: ChartView, shown: Stretch): Layout {
  const { bumps, lines, joints } = data;
  const below = lines.length > 1 && bumps.some(({ wheelLine }) => wheelLine === 'right');
  const bracketY = TOP_ROW;
  const top = TOP_ROW + (joints === null ? 0 : JOINT_ROW) + (bumps.length > 0 ? 2 * MARK_ROW : 0) + AIR;
  const lineY = lines.map((_, i) => top + LINE / 2 + i * (LINE + GAP));
  const bottom = lineY[lineY.length - 1] + LINE / 2 + AIR + (below ? 2 * MARK_ROW : AIR);
  const area = { left: LEFT, right: widthPx - RIGHT_MARGIN, top: TOP_ROW, bottom };
  const mostMm = Math.max(0, ...bumps.map(worstHeightMm));
  return { area, x: distanceScale(area, shown), widthPx, lineY, bracketY, mostMm };
}

/** Start and direction above the lines. */
function ends({ x, area, widthPx }: Layout, [from, to]: Stretch): string {
  const start = from <= 0 && to >= 0 ? x(0) : null;
  return [
    start === null
      ? ''
      : element('path', { class: 'peak', d: `M${px(start)} ${px(area.top)}l-4.5 -8h9z` }) +
        textElement({ x: start + 8, y: 12 }, texts.start),
    textElement(
      { class: 'line-name', x: widthPx - RIGHT_MARGIN, y: 12, 'text-anchor': 'end' },
      `${widthPx < ROOMY ? texts.directionShort : texts.direction} →`,
    ),
  ].join('');
}

function jointRow({ joints }: FloorStripData, { x, bracketY }: Layout): string {
  if (joints === null) return '';
  const { firstM, spacingM, count } = joints;
  const y = bracketY + 17;
  const [from, to] = [x(firstM), x(firstM + (count - 1) * spacingM)];
  return [
    element('path', { class: 'joint-row', d: `M${px(from)} ${px(y)}H${px(to)}` }),
    ...Array.from({ length: count }, (_, i) =>
      element('path', { class: 'joint-row', d: `M${px(x(firstM + i * spacingM))} ${px(y)}v5` }),
    ),
  ].join('');
}

/** Over the middle of what is shown of the row, inside of the plot. */
function jointRowWords({ joints }: FloorStripData, { x, bracketY, area }: Layout): string {
  if (joints === null) return '';
  const { firstM, spacingM, count } = joints;
  const from = Math.max(x(firstM), area.left);
  const to = Math.min(x(firstM + (count - 1) * spacingM), area.right);
  if (from > to) return '';
  const words = texts.jointRow(count, `${spacingM.toFixed(3)} m`);
  const half = (LETTER_PX * words.length) / 2;
  const middle = Math.max(area.left + half, Math.min(area.right - half, (from + to) / 2));
  return textElement({ x: middle, y: bracketY + 12, 'text-anchor': 'middle' }, words);
}

function wheelLines(
  data: FloorStripData,
  shades: Shades | null,
  { x, lineY }: Layout,
  [from, to]: Stretch,
): string[] {
  return data.lines.map((_, i) => {
    const y = lineY[i] - LINE / 2;
    const left = x(Math.max(from, data.fromM));
    const stretches = (shades?.lines[i] ?? []).filter(({ fromM, toM }) => toM > from && fromM < to);
    return [
      ...stretches.map(({ fromM, toM, riseMm }) =>
        element('rect', {
          class: riseMm === null ? 'unknown-box' : `shade-${shadeOf(riseMm, shades?.stepMm ?? 1)}`,
          x: x(fromM),
          y,
          width: Math.max(0.5, x(toM) - x(fromM)),
          height: LINE,
        }),
      ),
      element('rect', {
        class: 'wheel-line',
        x: left,
        y,
        width: x(Math.min(to, data.toM)) - left,
        height: LINE,
      }),
    ].join('');
  });
}

/** Across the floor where both wheel lines meet the same joint. */
function ties({ bumps, lines }: FloorStripData, { x, lineY }: Layout): string[] {
  if (lines.length < 2) return [];
  return bumps
    .filter(({ wheelLine }) => wheelLine === 'both')
    .map(({ atM }) => element('line', { class: 'bump', x1: x(atM), x2: x(atM), y1: lineY[0], y2: lineY[1] }));
}

/** Height and px of every mark of a bump. */
function spots(
  { wheelLine, heightMm, leftMm, rightMm }: StripBump,
  lines: readonly StripLine[],
  lineY: readonly number[],
): { readonly heightMm: number; readonly y: number }[] {
  if (lines.length < 2) return [{ heightMm, y: lineY[0] }];
  const left = { heightMm: leftMm ?? heightMm, y: lineY[0] };
  const right = { heightMm: rightMm ?? heightMm, y: lineY[1] };
  if (wheelLine === 'unknown') return [{ heightMm, y: (lineY[0] + lineY[1]) / 2 }];
  return wheelLine === 'left' ? [left] : wheelLine === 'right' ? [right] : [left, right];
}

function marksOf(bump: StripBump, lines: readonly StripLine[], { x, lineY, mostMm }: Layout): string[] {
  return spots(bump, lines, lineY).map(({ heightMm, y }) =>
    bumpMark(bump.kind, heightMm, mostMm, x(bump.atM), y),
  );
}

/** Numbers above the left line, and below the right one where a bump lies there alone. */
function numbers({ bumps, lines }: FloorStripData, { x, lineY, area }: Layout): string[] {
  const inside = bumps
    .map(({ mark, atM, wheelLine }) => ({
      mark,
      x: x(atM),
      below: lines.length > 1 && wheelLine === 'right',
    }))
    .filter(({ x: at }) => at >= area.left - 1 && at <= area.right + 1);
  const last = lineY[lineY.length - 1];
  return [false, true].flatMap((below) =>
    placeMarks(inside.filter((one) => one.below === below)).map(({ mark, x: at, row }) =>
      textElement(
        {
          class: 'peak-label',
          x: at,
          y: below ? last + LINE / 2 + AIR + 9 + MARK_ROW * row : lineY[0] - LINE / 2 - AIR - MARK_ROW * row,
          'text-anchor': 'middle',
        },
        mark,
      ),
    ),
  );
}

function read(data: FloorStripData, { lineY }: Layout, [from, to]: Stretch, at: number): Reading | null {
  const { bumps, distanceM, lines } = data;
  const near = [...bumps].sort((a, b) => Math.abs(a.atM - at) - Math.abs(b.atM - at)).at(0);
  const i = nearestIndex(distanceM, at);
  const snapped = near !== undefined && Math.abs(near.atM - at) <= SNAP * (to - from);
  const place = snapped ? near.atM : i >= 0 ? distanceM[i] : near?.atM;
  if (place === undefined) return null;
  const heights = lines.flatMap(({ id, heightMm, bandMm }, k): ReadValue[] =>
    i < 0 || heightMm.length === 0
      ? []
      : [{ id, text: heightText(texts[id], heightMm[i], bandMm[i]), yPx: lineY[k] }],
  );
  const bump: ReadValue[] =
    near === undefined
      ? []
      : [
          {
            id: 'bump',
            text: texts.nearestBump(near.mark, `${near.atM.toFixed(2)} m`, near.words),
            yPx: snapped ? spots(near, lines, lineY)[0].y : null,
          },
        ];
  return { at: place, place: placeAlong(data, place), values: [...heights, ...bump] };
}

/** A height with its 95 % band. @example heightText('left', -0.53, 0.2) // "left −0.53 mm ± 0.2 mm" */
export function heightText(name: string, heightMm: number, withinMm: number): string {
  const size = figure(Math.abs(heightMm));
  const sign = size === '0' ? '' : heightMm < 0 ? '−' : '+';
  return texts.height(name, `${sign}${size} mm`, `${figure(withinMm)} mm`);
}

/** The kind of the chart: one axis with the profile, a part of the run can be shown. */
export const floorStrip: ChartKind<FloorStripData> = {
  draw,
  series: () => [],
  axis: 'distance',
  zoom: true,
  closest: CLOSEST_M,
};
