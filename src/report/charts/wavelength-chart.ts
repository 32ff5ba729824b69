/** Roughness in one-third-octave bands of wavelength, dB re 1 µm: as rolled, without the bumps, and the limit curve for rails. */
import { scaleLinear, scaleLog } from 'd3-scale';
import { figure, type Units } from '../../run/index.js';
import { floorChartTexts as texts } from '../../texts/index.js';
import { bottomAxis, leftAxis, type PlotArea } from './axes.js';
import { heightUnit } from './axis-units.js';
import { isShown } from './live/stretch.js';
import type { ChartKind, ChartSeries, ChartView, DrawnChart, ReadValue, Reading } from './live/types.js';
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
  readonly units: Units;
  readonly bands: readonly WavelengthChartBand[];
}

const TOP = 28;
const HEIGHT = 160;
/** Half the width of a one-third-octave band on the log axis: a factor of 10^0.05. */
const HALF_BAND = 10 ** 0.05;
/** Room for the name of a band, px. */
const NAME_PX = 34;

type Scale = (value: number) => number;

function draw(data: WavelengthChartData, view: ChartView): DrawnChart {
  const { bands, units } = data;
  const area: PlotArea = { left: 46, top: TOP, right: view.widthPx - 6, bottom: TOP + HEIGHT };
  const centres = bands.map(({ centreM }) => centreM);
  const longest = Math.max(...centres) * HALF_BAND;
  const shortest = Math.min(...centres) / HALF_BAND;
  // Long waves left, as EN 15610 plots them.
  const x = scaleLog([longest, shortest], [area.left, area.right]);
  const y = levels(bands, area);
  const { unit, size } = heightUnit(units);
  const every = Math.max(1, Math.ceil((bands.length * NAME_PX) / (area.right - area.left)));
  const svg = svgRoot(
    view.widthPx,
    area.bottom + 36,
    texts.wavesLabel,
    leftAxis(
      area,
      y.ticks(5).map((value) => ({ at: y(value), label: String(value) })),
      texts.levelAxis,
    ),
    bottomAxis(
      area,
      bands
        .filter((_, i) => i % every === 0)
        .map(({ centreM, nominalM }) => ({
          at: x(centreM),
          label: String(Number(((1000 * nominalM) / size).toPrecision(size === 1 ? 3 : 2))),
        })),
      texts.waveAxis(unit),
    ),
    ...bands.map((band) => drawBand(band, x, y, view)),
  );
  return {
    svg,
    area,
    domain: [longest, shortest],
    log: true,
    read: (at) => read(bands, view, y, at),
    stops: [...centres].sort((a, b) => a - b),
  };
}

function levels(bands: readonly WavelengthChartBand[], area: PlotArea) {
  const all = bands.flatMap(({ levelDb, betweenJointsDb, rangeDb, limitDb }) => [
    levelDb + rangeDb,
    levelDb - rangeDb,
    ...(betweenJointsDb === null ? [] : [betweenJointsDb]),
    ...(limitDb === null ? [] : [limitDb]),
  ]);
  return scaleLinear([Math.min(...all), Math.max(...all)], [area.bottom, area.top]).nice(5);
}

function drawBand(
  { centreM, levelDb, betweenJointsDb, rangeDb, below, limitDb }: WavelengthChartBand,
  x: Scale,
  y: Scale,
  view: ChartView,
): string {
  const [left, right, middle] = [x(centreM * HALF_BAND), x(centreM / HALF_BAND), x(centreM)];
  const level = (id: string, db: number | null, className: string): string =>
    db === null || !isShown(view, id)
      ? ''
      : element('line', { class: className, x1: left + 0.5, x2: right - 0.5, y1: y(db), y2: y(db) });
  const range = below
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
      });
  return [
    level('limit', limitDb, SAMPLES.limit),
    level('between', betweenJointsDb, SAMPLES.between),
    level('rolled', levelDb, SAMPLES.rolled),
    isShown(view, 'rolled') ? range : '',
  ].join('');
}

const SAMPLES = { rolled: 'wave-level', between: 'wave-between', limit: 'limit' } as const;

function read(bands: readonly WavelengthChartBand[], view: ChartView, y: Scale, at: number): Reading | null {
  const off = ({ centreM }: WavelengthChartBand): number => Math.abs(Math.log(centreM / at));
  const band = [...bands].sort((a, b) => off(a) - off(b)).at(0);
  if (band === undefined || !(at > 0)) return null;
  const { centreM, nominalM, levelDb, betweenJointsDb, rangeDb, below, limitDb } = band;
  const value = (id: string, text: string, db: number): ReadValue => ({ id, text, yPx: y(db) });
  const values = [
    value(
      'rolled',
      below ? texts.levelBelow(texts.asRolled, levelDb) : texts.level(texts.asRolled, levelDb, rangeDb),
      levelDb,
    ),
    ...(betweenJointsDb === null
      ? []
      : [value('between', texts.level(texts.withoutBumps, betweenJointsDb, null), betweenJointsDb)]),
    ...(limitDb === null ? [] : [value('limit', texts.level(texts.railLimit, limitDb, null), limitDb)]),
  ];
  return {
    at: centreM,
    place: texts.waveAt(`${figure(1000 * nominalM)} mm`),
    values: values.filter(({ id }) => isShown(view, id)),
  };
}

/** The kind of the chart. */
export const wavelengths: ChartKind<WavelengthChartData> = {
  draw,
  series: ({ bands }) => {
    const has = (test: (band: WavelengthChartBand) => boolean): boolean => bands.some(test);
    return [
      { id: 'rolled', name: texts.asRolled, sample: SAMPLES.rolled },
      ...(has(({ betweenJointsDb }) => betweenJointsDb !== null)
        ? [{ id: 'between', name: texts.withoutBumps, sample: SAMPLES.between }]
        : []),
      ...(has(({ limitDb }) => limitDb !== null)
        ? [{ id: 'limit', name: texts.railLimit, sample: SAMPLES.limit }]
        : []),
    ] satisfies ChartSeries[];
  },
  axis: 'other',
  zoom: false,
};
