/**
 * Finds a change of the exposure in the course of the light: a step, a ramp, or a slow rise and fall.
 *
 * The light is that of places that were followed, so the course stands still while the camera travels past bright and
 * dark things. Lamps that flicker move it quickly up and down; that is left to the analysis of lamps.
 */
import { mean, median } from '../../numerics/index.js';
import type { LightStep } from './light-step.js';

/** The light on what is seen, over time. */
export interface LightCourse {
  /** Seconds, one for each frame of the table. */
  readonly timeS: Float64Array;
  /** Natural logarithm of the coded grey of the same places against the first frame; same length. */
  readonly levelLn: Float64Array;
  /** The same as a difference of grey levels 0..255. */
  readonly levelGrey: Float64Array;
  /** Steps from frame to frame on which points told the change, 0..1. */
  readonly toldShare: number;
}

/** How coded grey stands for light. */
export interface GreyCurve {
  /** display: a power of about 1/2.2; log: even steps of grey for even steps of exposure. */
  readonly kind: 'display' | 'log';
  /** Factor by which differences of grey were raised before they were looked at; 1 for none. */
  readonly contrastGain: number;
}

/** One change of the exposure. */
export interface ExposureChange {
  readonly fromS: number;
  readonly toS: number;
  /** + brighter; by a curve that is only supposed. */
  readonly stops: number;
  /** Changes of this kind in the whole stretch, this one included. */
  readonly count: number;
}

/**
 * Smallest change that is told, stops: the light on followed places wandered by up to 0.1 over the made-up scenes with
 * steady light, and cameras step by thirds.
 */
export const LEAST_STOPS = 0.25;
/** Corners that are darker by this much, ln of coded grey, are the darkest that lenses make: two stops. */
const MOST_DARKENING = 0.63;
/** Exponent of display curves, and grey levels of 255 a stop of log curves: about 8 % of the scale. */
const DISPLAY_GAMMA = 2.2;
const LOG_GREY_PER_STOP = 20;
/** Flashes shorter than this are none of the exposure. */
const FLASH_S = 0.2;
/** Several turns up and down quicker than this, each, are lamps. */
const LAMP_TURN_S = 0.7;
const LAMP_TURNS = 4;
/** Mean over this much takes them out. */
const STEADY_S = 1.5;
/** Where less of the steps were told, nothing is. */
const LEAST_TOLD = 0.8;
/** Part of a change that is left out at each end when its begin and end are told. */
const ENDS = 0.1;

/**
 * Adds up the steps of the light, with the darkening of the corners taken out.
 *
 * A lens that darkens its corners dims points that move outwards, as all do in a push-in. How much it does so is found
 * from points of one frame that move out by different amounts, over the whole clip.
 *
 * @param timeS of each frame
 * @param steps into each frame from the one before; null where nothing told. That of the first frame counts for nothing.
 */
export function lightCourse(timeS: ArrayLike<number>, steps: readonly (LightStep | null)[]): LightCourse {
  let [outOut, outLn] = [0, 0];
  for (const step of steps.slice(1)) {
    outOut += step?.sumOutOut ?? 0;
    outLn += step?.sumOutLn ?? 0;
  }
  const darkening = outOut > 0 ? Math.max(-MOST_DARKENING, Math.min(0, outLn / outOut)) : 0;
  const levelLn = new Float64Array(timeS.length);
  const levelGrey = new Float64Array(timeS.length);
  let told = 0;
  for (let k = 1; k < levelLn.length; k++) {
    const step = steps[k];
    const darkeningLn = step ? darkening * step.meanOut : 0;
    levelLn[k] = levelLn[k - 1] + (step ? step.meanLn - darkeningLn : 0);
    levelGrey[k] = levelGrey[k - 1] + (step ? step.meanGrey - darkeningLn * step.meanLevel : 0);
    if (step) told += 1;
  }
  return {
    timeS: Float64Array.from(timeS),
    levelLn,
    levelGrey,
    toldShare: levelLn.length > 1 ? told / (levelLn.length - 1) : 0,
  };
}

/** The course in stops, + brighter. */
function stopsOf({ levelLn, levelGrey }: LightCourse, { kind, contrastGain }: GreyCurve): Float64Array {
  return kind === 'log'
    ? levelGrey.map((grey) => grey / contrastGain / LOG_GREY_PER_STOP)
    : levelLn.map((ln) => (DISPLAY_GAMMA * ln) / Math.LN2);
}

/** The largest change of the exposure; null where there is none. */
export function exposureChange(course: LightCourse, curve: GreyCurve): ExposureChange | null {
  const { timeS, toldShare } = course;
  if (timeS.length < 3 || toldShare < LEAST_TOLD) return null;
  const stops = stopsOf(course, curve);
  const level = isLamp(timeS, stops)
    ? over(timeS, stops, STEADY_S, mean)
    : over(timeS, stops, FLASH_S, median);
  const turns = turnsOf(level);
  if (turns.length === 0) return null;
  const largest = turns.reduce((a, b) => (Math.abs(b.change) > Math.abs(a.change) ? b : a));
  const sign = Math.sign(largest.change);
  const done = (share: number): number => {
    for (let k = largest.from; k <= largest.to; k++)
      if (sign * (level[k] - level[largest.from]) >= share * Math.abs(largest.change)) return k;
    return largest.to;
  };
  const [begin, end] = [done(ENDS), done(1 - ENDS)];
  return {
    fromS: timeS[Math.max(largest.from, begin - 1)],
    toS: timeS[end],
    stops: largest.change,
    count: turns.length,
  };
}

/** Whether the light goes up and down as that of lamps does. */
function isLamp(timeS: Float64Array, stops: Float64Array): boolean {
  const turns = turnsOf(stops);
  if (turns.length < LAMP_TURNS) return false;
  return timeS[turns[turns.length - 1].to] - timeS[turns[0].from] < LAMP_TURN_S * turns.length;
}

/** A rise or a fall: frames of its ends, and by how much. */
interface Turn {
  readonly from: number;
  readonly to: number;
  readonly change: number;
}

/** Rises and falls of at least LEAST_STOPS, each until the course turns back by as much. */
function turnsOf(level: Float64Array): Turn[] {
  const turns: Turn[] = [];
  let [lowest, highest] = [0, 0];
  let from = 0;
  let heading = 0;
  const close = (to: number): void => {
    turns.push({ from, to, change: level[to] - level[from] });
    from = to;
  };
  for (let k = 1; k < level.length; k++) {
    if (level[k] > level[highest]) highest = k;
    if (level[k] < level[lowest]) lowest = k;
    if (heading >= 0 && level[highest] - level[k] >= LEAST_STOPS) {
      if (heading > 0) close(highest);
      else from = highest;
      heading = -1;
      lowest = k;
    } else if (heading <= 0 && level[k] - level[lowest] >= LEAST_STOPS) {
      if (heading < 0) close(lowest);
      else from = lowest;
      heading = 1;
      highest = k;
    }
  }
  if (heading !== 0) close(heading > 0 ? highest : lowest);
  return turns;
}

/** A statistic over so much time to both sides of each frame, to one side only at the ends of the clip. */
function over(
  timeS: Float64Array,
  values: Float64Array,
  widthS: number,
  statistic: (values: Float64Array) => number,
): Float64Array {
  const smooth = new Float64Array(values.length);
  // Time stamps are rounded; a frame on the very edge belongs to both sides alike.
  const reachS = widthS + 1e-6;
  let [low, high] = [0, 0];
  for (let k = 0; k < values.length; k++) {
    while (timeS[low] < timeS[k] - reachS) low++;
    while (high < values.length && timeS[high] <= timeS[k] + reachS) high++;
    smooth[k] = statistic(values.subarray(low, high));
  }
  return smooth;
}
