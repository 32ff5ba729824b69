/** The trade-off of stabilising: crop in per cent of the frame width, and the shake left in px, against smoothing in seconds. */
import { max } from 'd3-array';
import { scaleLinear, type ScaleLinear } from 'd3-scale';
import { area as areaPath, line as linePath } from 'd3-shape';
import {
  boundBeside,
  figure,
  figureBeside,
  limitFigure,
  percentBeside,
  percentFigure,
} from '../../run/index.js';
import { costTexts } from '../../texts/index.js';
import { bottomAxis, leftAxis, type PlotArea } from './axes.js';
import {
  surelyWithin,
  withinLimits,
  type CropCurvePoint,
  type CropLimits,
  type CropRanges,
  type RangeFactors,
  type SmoothingStretch,
} from './crop-limits.js';
import { boxesAlong, leastCovered, limitLabel } from './limit-label.js';
import { boxAround, labelBox, placeLabel, type Box } from './place-label.js';
import { nearestIndex, tickCount } from './live/stretch.js';
import type { ChartKind, ChartView, DrawnChart, Reading, ReadValue } from './live/types.js';
import { element, svgRoot, textElement } from './svg.js';

/** What the trade-off chart shows. */
export interface CropCurveData extends CropLimits, CropRanges {
  readonly label: string;
  /** In order of growing smoothing. */
  readonly points: readonly CropCurvePoint[];
  /** The setting that the verdict was made for; null when it lies on no curve. */
  readonly chosen: CropCurvePoint | null;
}

/** One of the two curves, each in a plot of its own. */
interface Panel {
  readonly id: 'crop' | 'left';
  readonly area: PlotArea;
  readonly title: string;
  readonly unit: string;
  readonly limit: number;
  readonly values: readonly { readonly s: number; readonly v: number }[];
  readonly factors: RangeFactors | null;
  readonly chosen: { readonly s: number; readonly v: number; readonly name: string } | null;
}

/** A limit further above the whole curve than this is named at the edge: the curve would be flat. */
const FAR_ABOVE = 2.5;
/** From this width on the plots are taller. */
const WIDE_PX = 700;
const LEFT = 46;
const RIGHT = 6;
/** Room above a plot for its title, and under the last one for the axis. */
const TITLE = 28;
const BETWEEN = 40;
const AXIS = 36;

/** The chart: crop above, shake left below, on one axis of smoothing; without the lower one where nothing is known of it. */
export const cropCurve: ChartKind<CropCurveData> = {
  draw,
  series: () => [],
  axis: 'other',
  zoom: false,
};

function draw(data: CropCurveData, { widthPx }: ChartView): DrawnChart {
  const panels = panelsOf(data, widthPx);
  const first = panels[0].area;
  const last = panels[panels.length - 1].area;
  const longest = Math.max(max(data.points, (p) => p.smoothingS) ?? 1, data.chosen?.smoothingS ?? 0);
  const x = scaleLinear([0, longest], [first.left, first.right]).nice(6);
  const scales = panels.map((panel) => verticalScale(panel));
  const kept = withinLimits(data.points, data);
  const sure = surelyWithin(data.points, data, data);
  const svg = svgRoot(
    widthPx,
    last.bottom + AXIS,
    data.label,
    ...panels.map(({ area }) =>
      [
        ...kept.map((stretch) => shade(stretch, x, area, 'within')),
        ...sure.map((stretch) => shade(stretch, x, area, 'within-sure')),
      ].join(''),
    ),
    ...panels.map((panel, i) => panelSvg(panel, x, scales[i], i === 0 ? keptNames(panels, kept, sure) : [])),
    bottomAxis(
      last,
      x.ticks(Math.min(8, tickCount(last))).map((value) => ({ at: x(value), label: String(value) })),
      costTexts.smoothingAxis,
    ),
  );
  const stops = data.points.map(({ smoothingS }) => smoothingS);
  return {
    svg,
    area: { ...first, bottom: last.bottom },
    domain: [x.domain()[0], x.domain()[1]],
    log: false,
    read: (at) => readAt(panels, scales, stops, at),
    stops,
  };
}

function panelsOf(data: CropCurveData, widthPx: number): Panel[] {
  const wide = widthPx >= WIDE_PX;
  const [left, right] = [LEFT, widthPx - RIGHT];
  const crop: PlotArea = { left, right, top: TITLE, bottom: TITLE + (wide ? 180 : 130) };
  const leftTop = crop.bottom + BETWEEN;
  const { chosen, points } = data;
  const known = points.flatMap(({ smoothingS: s, residualPx: v }) => (v === null ? [] : [{ s, v }]));
  const panels: Panel[] = [
    {
      id: 'crop',
      area: crop,
      title: costTexts.cropAxis,
      unit: '%',
      limit: data.maxCropPercent,
      values: points.map(({ smoothingS: s, cropPercent: v }) => ({ s, v })),
      factors: data.cropFactors,
      chosen:
        chosen === null
          ? null
          : {
              s: chosen.smoothingS,
              v: chosen.cropPercent,
              name: costTexts.chosenMark(percentFigure(chosen.cropPercent), limitFigure(chosen.smoothingS)),
            },
    },
    {
      id: 'left',
      area: { left, right, top: leftTop, bottom: leftTop + (wide ? 120 : 90) },
      title: costTexts.leftAxis,
      unit: 'px',
      limit: data.maxResidualPx,
      values: known,
      factors: data.leftFactors,
      chosen:
        chosen === null || chosen.residualPx === null
          ? null
          : {
              s: chosen.smoothingS,
              v: chosen.residualPx,
              name: costTexts.chosenLeft(figure(chosen.residualPx)),
            },
    },
  ];
  return panels.filter(({ values, id }) => id === 'crop' || values.length > 0);
}

type Scale = ScaleLinear<number, number>;

/** From nothing to what the curve, its band and, where it is near, the limit reach. */
function verticalScale(panel: Panel): Scale {
  const highest = highestOf(panel);
  const top = isFarAbove(panel) ? 1.2 * highest : Math.max(1.05 * highest, 1.2 * panel.limit);
  return scaleLinear([0, top || 1], [panel.area.bottom, panel.area.top]).nice(4);
}

function highestOf({ values, factors, chosen }: Panel): number {
  return Math.max((max(values, ({ v }) => v) ?? 0) * (factors?.[1] ?? 1), chosen?.v ?? 0);
}

function isFarAbove(panel: Panel): boolean {
  const highest = highestOf(panel);
  return highest > 0 && panel.limit > FAR_ABOVE * highest;
}

function shade(
  [fromS, toS]: SmoothingStretch,
  x: Scale,
  { top, bottom }: PlotArea,
  name: 'within' | 'within-sure',
): string {
  return element('rect', {
    class: name,
    x: x(fromS),
    y: top,
    width: x(toS) - x(fromS),
    height: bottom - top,
  });
}

/** A name in the upper plot and where along the smoothing, seconds; null for the middle of the plot. */
interface KeptName {
  readonly text: string;
  readonly atS: number | null;
}

/** What stands at the foot of the upper plot, or at its head where that is free: the names of the shaded parts, or that there is none. */
function keptNames(
  panels: readonly Panel[],
  kept: readonly SmoothingStretch[],
  sure: readonly SmoothingStretch[],
): KeptName[] {
  if (kept.length === 0) return [{ text: costTexts.nothingWithin, atS: null }];
  const names = panels.length > 1 ? costTexts.withinLimits : costTexts.withinCropLimit;
  return [nameOf(names.sure, sure), nameOf(names.notSure, notSure(kept, sure))].flat();
}

function nameOf(text: string, stretches: readonly SmoothingStretch[]): KeptName[] {
  const widest = [...stretches].sort((a, b) => b[1] - b[0] - (a[1] - a[0])).at(0);
  return widest === undefined ? [] : [{ text, atS: (widest[0] + widest[1]) / 2 }];
}

/** What of the stretches lies outside of those that are sure. */
function notSure(kept: readonly SmoothingStretch[], sure: readonly SmoothingStretch[]): SmoothingStretch[] {
  return kept.flatMap(([fromS, toS]) => {
    const inside = sure.filter(([a, b]) => a < toS && b > fromS);
    const froms = [fromS, ...inside.map(([, b]) => b)];
    const tos = [...inside.map(([a]) => a), toS];
    return froms.map((from, i) => [from, tos[i]] as const).filter(([from, to]) => from < to);
  });
}

function panelSvg(panel: Panel, x: Scale, y: Scale, kept: readonly KeptName[]): string {
  const { area, values, factors, limit, unit, chosen } = panel;
  const spots = values.map(({ s, v }) => ({ x: x(s), y: y(v) }));
  const mark = chosen === null ? null : { x: x(chosen.s), y: y(chosen.v) };
  const covered: readonly Box[] = [...boxesAlong(spots), ...(mark === null ? [] : [boxAround(mark, 6)])];
  const above = isFarAbove(panel);
  const limitY = above ? area.top : y(limit);
  const label = limitLabel(
    { text: costTexts.limit(limitFigure(Number(limit.toPrecision(3))), unit, above), y: limitY },
    area,
    covered,
  );
  const names: Box[] = [label.box];
  const name = kept.map((one) => keptLabel(one, x, area, covered, names)).join('');
  return [
    leftAxis(
      area,
      y.ticks(area.bottom - area.top > 100 ? 4 : 3).map((value) => ({ at: y(value), label: String(value) })),
      panel.title,
    ),
    factors === null ? '' : element('path', { class: 'open-band', d: bandPath(values, factors, x, y) }),
    above ? '' : element('line', { class: 'limit', x1: area.left, x2: area.right, y1: limitY, y2: limitY }),
    label.svg,
    element('path', { class: 'series angular', d: curvePath(values, x, y) }),
    ...spots.map((spot) => element('circle', { class: 'dot', cx: spot.x, cy: spot.y, r: 2.2 })),
    mark === null ? '' : element('path', { class: 'chosen', d: diamond(mark.x, mark.y) }),
    name,
    mark === null || chosen === null ? '' : chosenLabel(chosen.name, mark, area, covered, names),
  ].join('');
}

function chosenLabel(
  name: string,
  mark: { x: number; y: number },
  area: PlotArea,
  covered: readonly Box[],
  names: readonly Box[],
): string {
  const place = placeLabel(name, mark, area, covered, names);
  return textElement({ class: 'peak-label', x: place.x, y: place.y, 'text-anchor': place.anchor }, name);
}

/** Half of the room that a letter takes, px: keeps a name in the middle of a stretch inside of the plot. */
const HALF_LETTER = 3.1;
/** From line to line of names, px. */
const LINE = 14;

/** The name of a shaded part, on a line of its own where another name stands beside. @param names gets its box */
function keptLabel(
  { text, atS }: KeptName,
  x: Scale,
  area: PlotArea,
  covered: readonly Box[],
  names: Box[],
): string {
  const half = HALF_LETTER * text.length;
  const middle = atS === null ? (area.left + area.right) / 2 : x(atS);
  const across = Math.min(area.right - half, Math.max(area.left + half, middle));
  // The further lines are for a name beside which the other has no room, as on a phone.
  const [foot, head] = [area.bottom - 7, area.top + 13];
  const places = [foot, head, foot - LINE, head + LINE].map(
    (y) => ({ x: across, y, anchor: 'middle' }) as const,
  );
  const place = leastCovered(text, places, covered, names);
  names.push(labelBox(text, place));
  return textElement({ class: 'limit-label', x: place.x, y: place.y, 'text-anchor': place.anchor }, text);
}

function bandPath(values: Panel['values'], [least, most]: RangeFactors, x: Scale, y: Scale): string {
  return (
    areaPath<{ s: number; v: number }>()
      .x(({ s }) => x(s))
      .y0(({ v }) => y(v * least))
      .y1(({ v }) => y(v * most))
      .digits(2)([...values]) ?? ''
  );
}

function curvePath(values: Panel['values'], x: Scale, y: Scale): string {
  return (
    linePath<{ s: number; v: number }>()
      .x(({ s }) => x(s))
      .y(({ v }) => y(v))
      .digits(2)([...values]) ?? ''
  );
}

function readAt(
  panels: readonly Panel[],
  scales: readonly Scale[],
  stops: readonly number[],
  at: number,
): Reading | null {
  const index = nearestIndex(stops, at);
  if (index < 0) return null;
  const smoothingS = stops[index];
  const values = panels.flatMap(({ id, limit, values: all, factors }, i): ReadValue[] => {
    const here = all.find(({ s }) => s === smoothingS);
    if (here === undefined) return [];
    const print = id === 'crop' ? percentBeside : figureBeside;
    const range =
      factors === null
        ? ''
        : costTexts.readRange(print(here.v * factors[0], limit), boundBeside(here.v * factors[1], limit));
    const text = (id === 'crop' ? costTexts.readCrop : costTexts.readLeft)(print(here.v, limit), range);
    return [{ id, text, yPx: scales[i](here.v) }];
  });
  return { at: smoothingS, place: costTexts.readPlace(limitFigure(smoothingS)), values };
}

function diamond(x: number, y: number): string {
  return `M${x.toFixed(2)} ${(y - 6).toFixed(2)}l6 6l-6 6l-6 -6z`;
}
