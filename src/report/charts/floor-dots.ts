/** Crop of every run, a line for each floor, on one logarithmic scale: the shape of a mark is the verdict of its run. */
import { extent } from 'd3-array';
import { scaleLog } from 'd3-scale';
import { percentFigure, type VerdictSection } from '../../run/index.js';
import { logPageTexts } from '../../texts/index.js';
import { bottomAxis, type PlotArea } from './axes.js';
import { gradeShape } from './grade-shape.js';
import { nearestIndex } from './live/stretch.js';
import type { ChartKind, DrawnChart } from './live/types.js';
import { element, svgRoot, textElement } from './svg.js';
import { shorten } from './text-fit.js';

/** One run. */
export interface FloorDot {
  /** Crop, per cent of the width. */
  readonly percent: number;
  readonly grade: VerdictSection['grade'];
  /** What the run was, in a few words. */
  readonly name: string;
}

/** What the chart shows. */
export interface FloorDotsData {
  readonly label: string;
  /** From top to bottom. */
  readonly floors: readonly { readonly name: string; readonly dots: readonly FloorDot[] }[];
}

const ROW = 30;
const TOP = 8;
const NARROW = 480;
/** Width of a character of a name, px. */
const CHARACTER = 6.4;
const TICKS = [0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50];
/** A lower crop is drawn at the left edge. */
const LEAST_PERCENT = 0.05;
/** Marks nearer than this, px, are set apart upwards and downwards. */
const APART = 8;

function draw({ label, floors }: FloorDotsData, { widthPx }: { readonly widthPx: number }): DrawnChart {
  const left = widthPx < NARROW ? 96 : 190;
  const area: PlotArea = {
    left,
    top: TOP,
    right: widthPx - 14,
    bottom: TOP + ROW * Math.max(1, floors.length),
  };
  const all = floors.flatMap(({ dots }) => dots.map(({ percent }) => Math.max(LEAST_PERCENT, percent)));
  const [low = 0.5, high = 5] = extent(all);
  const domain = [low / 1.3, Math.max(high * 1.3, low * 4)] as const;
  const x = scaleLog([...domain], [area.left, area.right]);
  const middle = (row: number): number => TOP + ROW * (row + 0.5);
  const rows = floors.map(({ name, dots }, row) => {
    const placed = spread(dots.map(({ percent }) => x(Math.max(LEAST_PERCENT, percent))));
    return [
      element('line', { class: 'grid', x1: area.left, x2: area.right, y1: middle(row), y2: middle(row) }),
      textElement(
        { class: 'column-name', x: area.left - 10, y: middle(row) + 4, 'text-anchor': 'end' },
        shorten(name, Math.floor((area.left - 12) / CHARACTER)),
      ),
      ...placed.map(({ at, up }, i) => gradeShape(dots[i].grade, at, middle(row) + up)),
    ].join('');
  });
  const flat = floors
    .flatMap(({ name, dots }, row) => dots.map((dot) => ({ ...dot, floor: name, row })))
    .sort((a, b) => a.percent - b.percent);
  const places = flat.map(({ percent }) => Math.max(LEAST_PERCENT, percent));
  return {
    svg: svgRoot(
      widthPx,
      area.bottom + 36,
      label,
      bottomAxis(
        area,
        TICKS.filter((tick) => tick >= domain[0] && tick <= domain[1]).map((tick) => ({
          at: x(tick),
          label: String(tick),
        })),
        logPageTexts.cropAxis,
      ),
      ...rows,
    ),
    area,
    domain,
    log: true,
    read: (at) => {
      const nearest = flat[nearestIndex(places, at)];
      if (!nearest) return null;
      return {
        at: Math.max(LEAST_PERCENT, nearest.percent),
        place: logPageTexts.cropOf(percentFigure(nearest.percent)),
        values: [{ id: nearest.floor, text: `${nearest.floor}: ${nearest.name}`, yPx: middle(nearest.row) }],
      };
    },
    stops: [...new Set(places)],
  };
}

/** Places along a line, and how far each mark is moved up or down so that it does not cover its neighbour. */
function spread(places: readonly number[]): { at: number; up: number }[] {
  let last = -Infinity;
  let run = 0;
  const order = places.map((at, i) => ({ at, i })).sort((a, b) => a.at - b.at);
  const ups = new Array<number>(places.length).fill(0);
  for (const { at, i } of order) {
    run = at - last < APART ? run + 1 : 0;
    last = at;
    ups[i] = [0, -7, 7][run % 3];
  }
  return places.map((at, i) => ({ at, up: ups[i] }));
}

/** The kind. */
export const floorDots: ChartKind<FloorDotsData> = { draw, series: () => [], axis: 'other', zoom: false };
