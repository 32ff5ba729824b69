/** How far the sliders of a run reach: lens (mm, or times the one used), speed (m/s), smoothing (s); and why one of them cannot be asked. */
import type { ResolvedDelivery, RunDocument, RunSeries } from '../../../run/index.js';
import { HIGHEST_CUTOFF_SHARE, LEAST_PERIODS } from '../../../stabilise/index.js';
import { askTexts } from '../../../texts/index.js';
import type { SliderScale } from './slider-scale.js';

/** A slider with where it stands before anything is asked. */
export interface AskedRange extends SliderScale {
  readonly measured: number;
}

/** The pass as the panel needs it. */
export interface AskRanges {
  readonly lens: AskedRange;
  /** In millimetres; otherwise in times the lens used. */
  readonly lensInMm: boolean;
  readonly speed: AskedRange | null;
  /** Why there is no speed to ask for; null where there is. */
  readonly speedRefused: string | null;
  /** Null where there is no trade-off. */
  readonly smoothing: AskedRange | null;
  readonly delivery: ResolvedDelivery;
  readonly mode: RunDocument['stabilise']['mode'];
}

/** Focal lengths that lenses are sold with, mm (common practice, no source). */
const USUAL_LENSES_MM = [
  8, 10, 12, 14, 16, 18, 21, 24, 25, 28, 32, 35, 40, 50, 65, 75, 85, 100, 135, 180, 200, 300,
];
const USUAL_TIMES = [0.5, 0.75, 1, 1.5, 2, 3];
/** Times the lens used. */
const LENS_REACH = [0.4, 4] as const;
/** Times the speed of the pass: the range of the tables. */
const SPEED_REACH = [0.4, 2.5] as const;
const USUAL_SPEED_FACTORS = [0.5, 0.75, 1, 1.25, 1.5, 2];
/** The ranges of a stored run. */
export function rangesOf(run: RunDocument, series: RunSeries): AskRanges {
  const { rig, stabilise, delivery } = run;
  const speedMps = rig.speedMps ?? series.floor?.present.setup.speedMps ?? null;
  const speed = speedMps === null ? null : speedRange(speedMps, series);
  return {
    lens: rig.focalLengthMm === undefined ? around(1, LENS_REACH, USUAL_TIMES) : lensRange(rig.focalLengthMm),
    lensInMm: rig.focalLengthMm !== undefined,
    speed,
    speedRefused: speed !== null ? null : speedMps === null ? askTexts.speedNotKnown : askTexts.speedTooShort,
    smoothing: smoothingRange(stabilise),
    delivery,
    mode: stabilise.mode,
  };
}

function lensRange(mm: number): AskedRange {
  return around(mm, LENS_REACH, USUAL_LENSES_MM);
}

/** Speeds at which the clip would still be long enough, and its frames close enough. */
function speedRange(speedMps: number, { motion }: RunSeries): AskedRange | null {
  const { rateHz, bandHz } = motion;
  const durationS = motion.timeS.length / rateHz;
  const most = (durationS * bandHz[0]) / LEAST_PERIODS;
  const least = bandHz[0] / (HIGHEST_CUTOFF_SHARE * rateHz);
  const low = Math.max(SPEED_REACH[0], least);
  const high = Math.min(SPEED_REACH[1], most);
  if (!(high > low)) return null;
  // The pass itself is always among them.
  return around(
    speedMps,
    [Math.min(1, low), Math.max(1, high)],
    USUAL_SPEED_FACTORS.map((factor) => Number((factor * speedMps).toPrecision(3))),
  );
}

function smoothingRange({ curve, smoothingS, mode }: RunDocument['stabilise']): AskedRange | null {
  const known = curve.map((point) => point.smoothingS);
  if (known.length < 2) return null;
  const measured = smoothingS ?? known[known.length - 1];
  const all = mode === 'keepMove' ? [...known, measured] : known;
  return { low: Math.min(...all), high: Math.max(...all), usual: known, measured };
}

function around(
  measured: number,
  [least, most]: readonly [number, number],
  usual: readonly number[],
): AskedRange {
  const [low, high] = [inward(least * measured, Math.ceil), inward(most * measured, Math.floor)];
  const caught = [...new Set([...usual, measured])].filter((value) => value >= low && value <= high);
  return {
    low: Math.min(low, measured),
    high: Math.max(high, measured),
    usual: caught.sort((a, b) => a - b),
    measured,
  };
}

/** Three digits, rounded so that the end stays within what can be answered. */
function inward(value: number, round: (value: number) => number): number {
  const unit = 10 ** (Math.floor(Math.log10(value)) - 2);
  return Number((round(Number((value / unit).toPrecision(12))) * unit).toPrecision(3));
}
