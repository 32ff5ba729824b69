/** The trade-off of stabilising: crop in per cent of the frame width, and the shake left in px, against smoothing in seconds. */
import { max } from 'd3-array';
import { scaleLinear } from 'd3-scale';
import { line } from 'd3-shape';
import { bottomAxis, leftAxis, type PlotArea } from './axes.js';
import { element, svgRoot, textElement } from './svg.js';

/** One point of the trade-off. */
export interface CropCurvePoint {
  readonly smoothingS: number;
  readonly cropPercent: number;
  readonly residualPx: number | null;
}

/** What the trade-off chart shows. */
export interface CropCurveData {
  readonly label: string;
  /** In order of growing smoothing. */
  readonly points: readonly CropCurvePoint[];
  readonly maxCropPercent: number;
  readonly maxResidualPx: number;
  /** The setting that the verdict was made for; null when it lies on no curve. */
  readonly chosen: CropCurvePoint | null;
}

const WIDTH = 360;
const CROP: PlotArea = { left: 46, top: 28, right: 354, bottom: 138 };
const LEFT_OVER: PlotArea = { left: 46, top: 178, right: 354, bottom: 248 };

/** Draws the trade-off: crop above, shake left below, on one axis of smoothing. @returns SVG text, 360 x 284 */
export function cropCurveChart(data: CropCurveData): string {
  const { points, chosen } = data;
  const longest = Math.max(max(points, (p) => p.smoothingS) ?? 1, chosen?.smoothingS ?? 0);
  const x = scaleLinear([0, longest], [CROP.left, CROP.right]).nice(6);
  const panel = (
    area: PlotArea,
    title: string,
    limit: number,
    values: readonly { readonly s: number; readonly v: number }[],
    chosenValue: number | null | undefined,
  ): string => {
    const top = Math.max(max(values, ({ v }) => v) ?? 0, limit * 1.15, chosenValue ?? 0) || 1;
    const y = scaleLinear([0, top], [area.bottom, area.top]).nice(4);
    const curve = line<{ s: number; v: number }>()
      .x(({ s }) => x(s))
      .y(({ v }) => y(v))
      .digits(2)([...values]);
    return [
      leftAxis(
        area,
        y.ticks(area === CROP ? 4 : 3).map((value) => ({ at: y(value), label: String(value) })),
        title,
      ),
      element('line', { class: 'limit', x1: area.left, x2: area.right, y1: y(limit), y2: y(limit) }),
      textElement(
        // Each curve keeps clear of one end: crop grows to the right, what is left grows to the left.
        area === CROP
          ? { class: 'limit-label', x: area.left + 4, y: y(limit) - 4 }
          : { class: 'limit-label', x: area.right - 4, y: y(limit) - 4, 'text-anchor': 'end' },
        `limit ${Number(limit.toPrecision(3))}`,
      ),
      element('path', { class: 'series angular', d: curve ?? '' }),
      ...values.map(({ s, v }) => element('circle', { class: 'dot', cx: x(s), cy: y(v), r: 2.2 })),
      chosen === null || chosenValue === null || chosenValue === undefined
        ? ''
        : element('path', { class: 'chosen', d: diamond(x(chosen.smoothingS), y(chosenValue)) }),
    ].join('');
  };
  const left = points.flatMap(({ smoothingS: s, residualPx: v }) => (v === null ? [] : [{ s, v }]));
  const last = left.length > 0 ? LEFT_OVER : CROP;
  return svgRoot(
    WIDTH,
    last.bottom + 36,
    data.label,
    panel(
      CROP,
      'crop, % of width',
      data.maxCropPercent,
      points.map(({ smoothingS: s, cropPercent: v }) => ({ s, v })),
      chosen?.cropPercent,
    ),
    left.length > 0
      ? panel(LEFT_OVER, 'shake left, px RMS at delivery', data.maxResidualPx, left, chosen?.residualPx)
      : '',
    bottomAxis(
      last,
      x.ticks(6).map((value) => ({ at: x(value), label: String(value) })),
      'smoothing, s',
    ),
  );
}

function diamond(x: number, y: number): string {
  return `M${x.toFixed(2)} ${(y - 6).toFixed(2)}l6 6l-6 6l-6 -6z`;
}
