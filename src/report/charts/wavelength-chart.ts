/** Roughness in one-third-octave bands of wavelength, dB re 1 µm: as rolled, without the bumps, and the limit curve for rails. */
import { scaleLinear, scaleLog } from 'd3-scale';
import { bottomAxis, leftAxis, type PlotArea } from './axes.js';
import { element, svgRoot } from './svg.js';

/** One band. */
export interface WavelengthChartBand {
  /** Exact centre, where it is drawn, and its name. */
  readonly centreM: number;
  readonly nominalM: number;
  readonly levelDb: number;
  readonly betweenJointsDb: number | null;
  /** Half of the 95 % range, dB. */
  readonly rangeDb: number;
  /** The level is an upper bound: drawn with an arrow down. */
  readonly below: boolean;
  readonly limitDb: number | null;
}

/** What the chart shows. */
export interface WavelengthChartData {
  readonly label: string;
  readonly bands: readonly WavelengthChartBand[];
}

const WIDTH = 360;
const MAIN: PlotArea = { left: 46, top: 28, right: 354, bottom: 188 };
/** Half the width of a one-third-octave band on the log axis: a factor of 10^0.05. */
const HALF_BAND = 10 ** 0.05;

/** Draws the bands, long waves left as EN 15610 plots them. @returns SVG text, 360 x 224 */
export function wavelengthChart({ label, bands }: WavelengthChartData): string {
  const centres = bands.map(({ centreM }) => centreM);
  const longest = Math.max(...centres) * HALF_BAND;
  const shortest = Math.min(...centres) / HALF_BAND;
  const x = scaleLog([longest, shortest], [MAIN.left, MAIN.right]);
  const all = bands.flatMap(({ levelDb, betweenJointsDb, rangeDb, limitDb }) => [
    levelDb + rangeDb,
    levelDb - rangeDb,
    ...(betweenJointsDb === null ? [] : [betweenJointsDb]),
    ...(limitDb === null ? [] : [limitDb]),
  ]);
  const y = scaleLinear([Math.min(...all), Math.max(...all)], [MAIN.bottom, MAIN.top]).nice(5);
  return svgRoot(
    WIDTH,
    MAIN.bottom + 36,
    label,
    leftAxis(
      MAIN,
      y.ticks(5).map((value) => ({ at: y(value), label: String(value) })),
      'level, dB re 1 µm',
    ),
    bottomAxis(
      MAIN,
      bands
        .filter((_, i) => bands.length <= 9 || i % 2 === 0)
        .map(({ centreM, nominalM }) => ({
          at: x(centreM),
          label: String(Number((1000 * nominalM).toPrecision(3))),
        })),
      'wavelength, mm',
    ),
    ...bands.map((band) => drawBand(band, x, y)),
  );
}

type Scale = (value: number) => number;

function drawBand(
  { centreM, levelDb, betweenJointsDb, rangeDb, below, limitDb }: WavelengthChartBand,
  x: Scale,
  y: Scale,
): string {
  const [left, right, middle] = [x(centreM * HALF_BAND), x(centreM / HALF_BAND), x(centreM)];
  const level = (db: number, className: string): string =>
    element('line', { class: className, x1: left + 0.5, x2: right - 0.5, y1: y(db), y2: y(db) });
  return [
    limitDb === null ? '' : level(limitDb, 'limit'),
    betweenJointsDb === null ? '' : level(betweenJointsDb, 'between'),
    level(levelDb, 'band-level'),
    below
      ? element('path', {
          class: 'range-bar',
          d: `M${middle.toFixed(2)} ${y(levelDb).toFixed(2)}v9m-3 -4l3 4l3 -4`,
        })
      : element('line', {
          class: 'range-bar',
          x1: middle,
          x2: middle,
          y1: y(levelDb - rangeDb),
          y2: y(levelDb + rangeDb),
        }),
  ].join('');
}
