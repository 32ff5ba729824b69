/**
 * The small charts of the contact picture, drawn by the charts of the page in a narrow box: shake of the worst angular axis over time, the
 * floor along the run, or where no floor is known the crop by smoothing.
 */
import { max } from 'd3-array';
import { scaleLinear } from 'd3-scale';
import { line } from 'd3-shape';
import { figure, limitFigure, type RunDocument } from '../../run/index.js';
import { contactTexts } from '../../texts/index.js';
import { bottomAxis, leftAxis, type PlotArea } from '../charts/axes.js';
import { heightUnit, placeUnit } from '../charts/axis-units.js';
import { boxesAlong, limitLabel } from '../charts/limit-label.js';
import {
  chartKind,
  element,
  STRIP_SHADES,
  stripShades,
  svgRoot,
  textElement,
  type CropCurvePoint,
  type FloorStripData,
  type StripLine,
} from '../charts/index.js';
import { MOVE } from '../charts/timeline/data.js';
import { stripData } from '../html/floor-chart-data.js';
import { timelineData } from '../html/shake-timeline.js';
import type { ReportBundle } from '../types.js';

/** A chart with its size, px of its own box; it is drawn larger. */
export interface SmallChart {
  readonly svg: string;
  readonly heightPx: number;
}

/** Width of the box that the charts are drawn in: letters of 11 px then stand at 26 px in the picture. */
export const SMALL_WIDTH_PX = 408;

const CROP_AREA: PlotArea = { left: 46, top: 22, right: 400, bottom: 84 };
const FLOOR_TITLE_PX = 18;
const FLOOR_MARKS_PX = 15;
/** A floor that rises by less between its joints is smooth: shades would make as much of it as of rubble. */
const SMOOTH_MM = 1;
/** Above the letters of a number. */
const NUMBER_PX = 11;
/** The labels of the ticks, without what stands below them. */
const TICK_LABELS_PX = 17;
const TICKS = { across: 6, up: 3 };

/** Shake of one axis over time, with its noise band. */
export function shakeChart(bundle: ReportBundle, axis: 'pan' | 'tilt' | 'roll'): SmallChart {
  const data = timelineData(bundle);
  const { svg, area } = chartKind('timeline').draw(
    { ...data, axes: data.axes.filter(({ id }) => id === axis), places: null, marks: [] },
    { widthPx: SMALL_WIDTH_PX, hidden: [MOVE] },
  );
  return cut(svg, 0, area.bottom + TICK_LABELS_PX);
}

/**
 * The run from above as one line: joints and bumps at their places, the worst numbered 1, shaded where it is not smooth; null where there
 * is nothing of that to show.
 */
export function floorChart(bundle: ReportBundle): SmallChart | null {
  const data = stripData(bundle);
  if (data === null) return null;
  const bumps = data.bumps.map(inMiddle);
  const mean = { ...data, front: null, joints: null, lines: [meanLine(data)], bumps };
  const darkestMm = (STRIP_SHADES - 1) * (stripShades(mean)?.stepMm ?? 0);
  const shaded = darkestMm >= SMOOTH_MM;
  if (!shaded && bumps.length === 0) return null;
  const { svg, area } = chartKind('floorStrip').draw(
    shaded ? mean : { ...mean, lines: [{ id: 'mean', heightMm: [], bandMm: [] }] },
    { widthPx: SMALL_WIDTH_PX },
  );
  const { unit, size } = heightUnit(data.units);
  const words = contactTexts.floorTitle(
    placeUnit(data.units).unit,
    shaded ? `${figure(darkestMm / size)} ${unit}` : null,
  );
  const up = bumps.some(({ heightMm }) => heightMm >= 0);
  const down = bumps.some(({ heightMm }) => heightMm < 0);
  const marks = bumps.length === 0 ? null : contactTexts.floorMarks(up, down, bumps.length > 1);
  const titlePx = FLOOR_TITLE_PX + (marks === null ? 0 : FLOOR_MARKS_PX);
  const title = [words, ...(marks === null ? [] : [marks])]
    .map((line, i) => textElement({ class: 'axis-title', x: 0, y: 12 + i * FLOOR_MARKS_PX }, line))
    .join('');
  const strip = cut(svg, highestNumberPx(svg) ?? area.top, area.bottom + TICK_LABELS_PX);
  const heightPx = titlePx + strip.heightPx;
  const placed = strip.svg.replace(
    '<svg ',
    `<svg y="${titlePx}" width="${SMALL_WIDTH_PX}" height="${strip.heightPx}" `,
  );
  return { svg: svgRoot(SMALL_WIDTH_PX, heightPx, words, title, placed), heightPx };
}

/** Where the numbers of bumps begin in a strip, px; null where it has none. */
function highestNumberPx(svg: string): number | null {
  const tops = [...svg.matchAll(/<text class="peak-label"[^>]* y="([\d.]+)"/g)].map(([, y]) => Number(y));
  return tops.length === 0 ? null : Math.min(...tops) - NUMBER_PX;
}

/** Both wheel lines as one; it has no name beside it. */
function meanLine({ lines, distanceM }: FloorStripData): StripLine {
  const known = lines.filter(({ heightMm }) => heightMm.length > 0);
  const mean = (of: (line: StripLine) => readonly number[]): number[] =>
    known.length === 0
      ? []
      : distanceM.map((_, i) => known.reduce((sum, one) => sum + of(one)[i], 0) / known.length);
  return { id: 'mean', heightMm: mean(({ heightMm }) => heightMm), bandMm: mean(({ bandMm }) => bandMm) };
}

const inMiddle = (bump: FloorStripData['bumps'][number]): FloorStripData['bumps'][number] => ({
  ...bump,
  wheelLine: 'both',
});

/** Crop against smoothing with the limit and the setting of the report; null where there is no trade-off. */
export function cropChart({ stabilise, delivery }: RunDocument): SmallChart | null {
  const { curve: points, smoothingS, cropPercent } = stabilise;
  if (points.length === 0) return null;
  const { maxCropPercent } = delivery;
  const chosen = smoothingS === null ? null : { smoothingS, cropPercent };
  const longest = Math.max(max(points, (p) => p.smoothingS) ?? 1, chosen?.smoothingS ?? 0);
  const highest = Math.max(
    max(points, (p) => p.cropPercent) ?? 0,
    1.15 * maxCropPercent,
    chosen?.cropPercent ?? 0,
  );
  const x = scaleLinear([0, longest], [CROP_AREA.left, CROP_AREA.right]);
  const y = scaleLinear([0, highest || 1], [CROP_AREA.bottom, CROP_AREA.top]);
  const spots = points.map((p) => ({ x: x(p.smoothingS), y: y(p.cropPercent) }));
  const curve = line<CropCurvePoint>()
    .x((p) => x(p.smoothingS))
    .y((p) => y(p.cropPercent))
    .digits(2)([...points]);
  const limitY = y(maxCropPercent);
  const heightPx = CROP_AREA.bottom + 20;
  const svg = svgRoot(
    SMALL_WIDTH_PX,
    heightPx,
    contactTexts.cropTitle,
    leftAxis(
      CROP_AREA,
      y.ticks(TICKS.up).map((value) => ({ at: y(value), label: String(value) })),
      contactTexts.cropTitle,
    ),
    bottomAxis(
      CROP_AREA,
      x
        .ticks(TICKS.across)
        .map((value) => ({ at: x(value), label: contactTexts.inSeconds(String(value)) }))
        // A label at the end would run over it.
        .filter(({ at, label }) => at + 4 * label.length <= SMALL_WIDTH_PX),
      '',
    ),
    element('line', { class: 'limit', x1: CROP_AREA.left, x2: CROP_AREA.right, y1: limitY, y2: limitY }),
    limitLabel(
      { text: contactTexts.limit(`${limitFigure(maxCropPercent)} %`), y: limitY },
      CROP_AREA,
      boxesAlong(spots),
    ).svg,
    element('path', { class: 'series angular', d: curve ?? '' }),
    chosen === null
      ? ''
      : element('path', {
          class: 'chosen',
          d: `M${x(chosen.smoothingS).toFixed(2)} ${(y(chosen.cropPercent) - 6).toFixed(2)}l6 6l-6 6l-6 -6z`,
        }),
  );
  return { svg, heightPx };
}

/** The part of a chart between two heights: what the page writes around it for readers at leisure has no room here. */
function cut(svg: string, fromPx: number, toPx: number): SmallChart {
  const height = Math.ceil(toPx - fromPx);
  return {
    svg: svg.replace(/viewBox="[^"]*"/, `viewBox="0 ${fromPx} ${SMALL_WIDTH_PX} ${height}"`),
    heightPx: height,
  };
}
