/**
 * Deck pitch, roll and heave (radians, metres) that listed joints, bumps and dips give a setup, frame by frame: the rigid deck
 * over their shapes, rear axle and front axle each in its turn, averaged over the exposure and high-passed.
 *
 * A wheel climbs a step along its own circle, over sqrt(2 r h). A narrow gap of width g lets it sink by g^2 / 8r whatever its depth,
 * so a dip halves when the diameter doubles. The contact patch smooths as a bell. Own derivation.
 */
import { fourthDifferenceVibration } from '../../numerics/index.js';
import type { PredictedEvent, PredictedFloor, SetupForPrediction } from './types.js';

/** Spacing of the heights along the run, metres: well below the way of any exposure that matters. */
const SPACING_M = 0.001;
/** Longer runs are laid out more coarsely. */
const MOST_POINTS = 200_000;
/** Radius of a wheel of the pass when only its ratio to others is known, metres; only the steps' rise depends on it. */
const USUAL_RADIUS_M = 0.05;
/** Floor laid out before and after the run, metres: room for blur, bells and the rise of a step. */
const MARGIN_M = 0.3;
/** Fewer frames than this have no vibration band. */
const FEWEST_FRAMES = 16;
const TRIM_S = 0.5;
/** The bell is cut off after so many standard deviations. */
const BELL_REACH = 4;

/** Series of n frames without the half second at each end; all zero without events. */
export interface EventShake {
  readonly pitchRad: Float64Array;
  readonly heaveM: Float64Array;
  /** Null without a track width or when no event shows its sides. */
  readonly rollRad: Float64Array | null;
}

/**
 * The shake of the events of a floor under a setup.
 *
 * @returns null when the run is over before there is a vibration band
 */
export function eventShake(
  floor: PredictedFloor,
  setup: SetupForPrediction,
  contactCyclesPerM: number,
): EventShake | null {
  const { speedMps, rateHz, wheelbaseM, trackWidthM } = setup;
  const frames = 1 + Math.floor((floor.runLengthM / speedMps) * rateHz);
  const trim = Math.min(Math.round(TRIM_S * rateHz), Math.floor(frames / 4));
  if (frames - 2 * trim < FEWEST_FRAMES) return null;
  if (floor.events.length === 0) return stillness(frames - 2 * trim, trackWidthM !== null);
  const lay = (heightOf: (event: PredictedEvent) => number): Float64Array =>
    rolledSeries(floor, setup, contactCyclesPerM, heightOf, frames);
  const cut = (values: Float64Array): Float64Array =>
    fourthDifferenceVibration(values, rateHz, setup.cutoffHz).slice(trim, frames - trim);
  const mean = lay(({ heightM }) => heightM);
  const rear = mean.subarray(0, frames);
  const front = mean.subarray(frames);
  const sides = floor.events.some(({ differenceM }) => differenceM !== null);
  let rollRad: Float64Array | null = null;
  if (trackWidthM !== null && sides) {
    const d = lay(({ differenceM }) => differenceM ?? 0);
    rollRad = cut(d.slice(0, frames).map((value, i) => (value + d[frames + i]) / (2 * trackWidthM)));
  }
  return {
    pitchRad: cut(rear.map((value, i) => (front[i] - value) / wheelbaseM)),
    heaveM: cut(rear.map((value, i) => (front[i] + value) / 2)),
    rollRad,
  };
}

function stillness(count: number, withRoll: boolean): EventShake {
  const zero = (): Float64Array => new Float64Array(count);
  return { pitchRad: zero(), heaveM: zero(), rollRad: withRoll ? zero() : null };
}

/** Heights under the rear axle, then under the front axle, averaged over each exposure; 2 * frames long. */
function rolledSeries(
  floor: PredictedFloor,
  setup: SetupForPrediction,
  contactCyclesPerM: number,
  heightOf: (event: PredictedEvent) => number,
  frames: number,
): Float64Array {
  const { speedMps, rateHz, exposureS, wheelbaseM, wheel } = setup;
  const lengthM = floor.runLengthM + wheelbaseM + 2 * MARGIN_M;
  const count = Math.min(MOST_POINTS, Math.ceil(lengthM / SPACING_M));
  const spacingM = lengthM / count;
  const heights = new Float64Array(count);
  const radiusM = USUAL_RADIUS_M * wheel.diameterFactor;
  for (const event of floor.events) {
    const heightM = heightOf(event) * (event.kind === 'dip' ? 1 / wheel.diameterFactor : 1);
    addShape(heights, spacingM, { ...event, atM: event.atM + MARGIN_M, heightM }, radiusM);
  }
  const smooth = bellSmoothed(heights, spacingM, Math.sqrt(Math.LN2) / (2 * Math.PI * contactCyclesPerM));
  const sums = new Float64Array(count + 1);
  for (let i = 0; i < count; i++) sums[i + 1] = sums[i] + smooth[i];
  const sumTo = (x: number): number => {
    const place = Math.max(0, Math.min(count, x / spacingM));
    const i = Math.min(count - 1, Math.floor(place));
    return sums[i] + (place - i) * smooth[i];
  };
  const blurM = Math.max(spacingM, speedMps * exposureS);
  const meanAround = (x: number): number =>
    ((sumTo(x + blurM / 2) - sumTo(x - blurM / 2)) * spacingM) / blurM;
  return Float64Array.from({ length: 2 * frames }, (_, i) => {
    const rearM = ((i % frames) * speedMps) / rateHz;
    return meanAround(MARGIN_M + rearM + (i < frames ? 0 : wheelbaseM));
  });
}

/** Adds one event as a wheel of that radius meets it. */
function addShape(
  heights: Float64Array,
  spacingM: number,
  { kind, atM, heightM, lengthM }: PredictedEvent,
  radiusM: number,
): void {
  const riseM = Math.sqrt(2 * radiusM * Math.abs(heightM));
  for (let i = 0; i < heights.length; i++) {
    // Middle of the cell, seen from the event.
    const x = (i + 0.5) * spacingM - atM;
    if (kind === 'step' || kind === 'joint') {
      // Up: the circle reaches the upper plate before the edge; down: it leaves it after.
      const beyond = heightM > 0 ? x : -x;
      const climbed = beyond >= 0 ? 1 : beyond <= -riseM ? 0 : 1 - (beyond / riseM) ** 2;
      heights[i] += heightM > 0 ? heightM * climbed : heightM * (1 - climbed);
    } else {
      const share = Math.abs(x) / Math.max(lengthM / 2, spacingM);
      if (share >= 1) continue;
      heights[i] += heightM * (kind === 'bump' ? (1 + Math.cos(Math.PI * share)) / 2 : 1 - share);
    }
  }
}

function bellSmoothed(heights: Float64Array, spacingM: number, sdM: number): Float64Array {
  const reach = Math.ceil((BELL_REACH * sdM) / spacingM);
  const bell = Float64Array.from({ length: 2 * reach + 1 }, (_, j) =>
    Math.exp(-0.5 * (((j - reach) * spacingM) / sdM) ** 2),
  );
  const total = bell.reduce((sum, value) => sum + value, 0);
  const last = heights.length - 1;
  return heights.map((_, i) => {
    let sum = 0;
    for (let j = -reach; j <= reach; j++)
      sum += bell[j + reach] * heights[Math.max(0, Math.min(last, i + j))];
    return sum / total;
  });
}
