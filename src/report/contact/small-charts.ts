/** The small charts of the contact picture, from the parts that all charts share: shake of one axis over time in degrees, crop by smoothing. */
import { max } from 'd3-array';
import { format } from 'd3-format';
import { scaleLinear } from 'd3-scale';
import { line } from 'd3-shape';
import { limitFigure } from '../../run/index.js';
import { contactTexts } from '../../texts/index.js';
import { bottomAxis, leftAxis, type PlotArea } from '../charts/axes.js';
import {
  decimalsFor,
  element,
  reachOf,
  svgRoot,
  textElement,
  thinOut,
  type CropCurvePoint,
} from '../charts/index.js';

/** Size of one chart, px of its own box; it is drawn larger. */
export const SMALL_CHART = { widthPx: 410, heightPx: 98 } as const;

const AREA: PlotArea = { left: 52, top: 22, right: 402, bottom: 78 };
/** A label with its unit takes this much. */
const TICKS = { across: 6, up: 3 };

/** What the shake of one axis is drawn from. */
export interface ShakeStripData {
  /** Name of the axis. */
  readonly axis: string;
  /** Seconds and degrees, length n. */
  readonly timeS: Float64Array;
  readonly vibrationDeg: Float64Array;
  /** Noise floor, 1 sigma: drawn as a band of twice that to each side. */
  readonly noiseDeg: number;
  /** Samples at each end that no statistic uses: drawn dimmed. */
  readonly trimFrames: number;
}

/** Draws the shake over time. @returns SVG text of the size of SMALL_CHART */
export function shakeStrip({ axis, timeS, vibrationDeg, noiseDeg, trimFrames }: ShakeStripData): string {
  const n = timeS.length;
  const from = n > 0 ? timeS[0] : 0;
  const to = n > 1 ? timeS[n - 1] : from + 1;
  const x = scaleLinear([from, to], [AREA.left, AREA.right]);
  const reach = Math.max(reachOf(vibrationDeg), 2 * noiseDeg) || 1;
  const y = scaleLinear([-1.08 * reach, 1.08 * reach], [AREA.bottom, AREA.top]);
  const ticks = y.ticks(TICKS.up);
  const label = format(`.${decimalsFor(ticks)}f`);
  const dimmed = Math.min(trimFrames, Math.floor(n / 2));
  const ends = [
    [AREA.left, x(timeS[dimmed])],
    [x(timeS[n - 1 - dimmed]), AREA.right],
  ];
  const curve = line<number>()
    .x((i) => x(timeS[i]))
    .y((i) => y(vibrationDeg[i]))
    .digits(2)(thinOut(vibrationDeg, AREA.right - AREA.left));
  return svgRoot(
    SMALL_CHART.widthPx,
    SMALL_CHART.heightPx,
    contactTexts.shakeTitle(axis),
    leftAxis(
      AREA,
      ticks.map((value) => ({ at: y(value), label: label(value) })),
      contactTexts.shakeTitle(axis),
    ),
    bottomAxis(AREA, ticksAcross(x.ticks(TICKS.across), x, contactTexts.inSeconds), ''),
    element('rect', {
      class: 'noise-band',
      x: AREA.left,
      y: y(2 * noiseDeg),
      width: AREA.right - AREA.left,
      height: y(-2 * noiseDeg) - y(2 * noiseDeg),
    }),
    element('path', { class: 'series angular', d: curve ?? '' }),
    ...(dimmed === 0 ? [] : ends).map(([left, right]) =>
      element('rect', {
        class: 'unused',
        x: left,
        y: AREA.top,
        width: Math.max(0, right - left),
        height: AREA.bottom - AREA.top - 1,
      }),
    ),
  );
}

/** What the trade-off is drawn from. */
export interface CropStripData {
  /** In order of growing smoothing. */
  readonly points: readonly CropCurvePoint[];
  readonly maxCropPercent: number;
  /** The setting of the report; null when it lies on no curve. */
  readonly chosen: Pick<CropCurvePoint, 'smoothingS' | 'cropPercent'> | null;
}

/** Draws the crop against smoothing, with the limit and the setting of the report. @returns SVG text of the size of SMALL_CHART */
export function cropStrip({ points, maxCropPercent, chosen }: CropStripData): string {
  const longest = Math.max(max(points, (p) => p.smoothingS) ?? 1, chosen?.smoothingS ?? 0);
  const x = scaleLinear([0, longest], [AREA.left, AREA.right]);
  const highest = Math.max(
    max(points, (p) => p.cropPercent) ?? 0,
    1.15 * maxCropPercent,
    chosen?.cropPercent ?? 0,
  );
  const y = scaleLinear([0, highest || 1], [AREA.bottom, AREA.top]);
  const curve = line<CropCurvePoint>()
    .x((p) => x(p.smoothingS))
    .y((p) => y(p.cropPercent))
    .digits(2)([...points]);
  const at = chosen && ([x(chosen.smoothingS), y(chosen.cropPercent)] as const);
  return svgRoot(
    SMALL_CHART.widthPx,
    SMALL_CHART.heightPx,
    contactTexts.cropTitle,
    leftAxis(
      AREA,
      y.ticks(TICKS.up).map((value) => ({ at: y(value), label: String(value) })),
      contactTexts.cropTitle,
    ),
    bottomAxis(AREA, ticksAcross(x.ticks(TICKS.across), x, contactTexts.inSeconds), ''),
    element('line', {
      class: 'limit',
      x1: AREA.left,
      x2: AREA.right,
      y1: y(maxCropPercent),
      y2: y(maxCropPercent),
    }),
    textElement(
      // Crop grows to the right: at the left the curve is low.
      { class: 'limit-label', x: AREA.left + 4, y: limitLabelY(y(maxCropPercent)) },
      contactTexts.limit(`${limitFigure(maxCropPercent)} %`),
    ),
    element('path', { class: 'series angular', d: curve ?? '' }),
    at === null ? '' : element('path', { class: 'chosen', d: `M${at[0]} ${at[1] - 6}l6 6l-6 6l-6 -6z` }),
  );
}

/** Over the line, or under it where the title is too near. */
function limitLabelY(limitY: number): number {
  return limitY - 4 < AREA.top + 8 ? limitY + 12 : limitY - 4;
}

/** Ticks with the unit at each, but none whose label would run over the end. */
function ticksAcross(
  values: readonly number[],
  x: (value: number) => number,
  withUnit: (value: string) => string,
): { at: number; label: string }[] {
  return values
    .map((value) => ({ at: x(value), label: withUnit(String(value)) }))
    .filter(({ at, label }) => at + 4 * label.length <= SMALL_CHART.widthPx);
}
