/**
 * What is left of the kicks at shimmed places once the rigid deck's answer is taken out: an error of shape or place, no floor. It is
 * brought down to what the rest of the pass shakes. Units of the motion.
 */
import { rms } from '../../numerics/index.js';
import { sixAxes, type SixAxes, type StoredFloor } from '../../run/index.js';
import type { Motion } from '../../motion/index.js';
import type { PredictedEvent } from '../../surface/index.js';

/** Time before and after an axle is over an event in which its kick shows, seconds. */
const KICK_S = 0.12;
/** Where more of the pass than this is taken up by events nothing is left to hold them against. */
const MOST_TAKEN = 0.7;

/** A stretch of frames, the last one not included. */
type Frames = readonly [from: number, to: number];

/** The frames in which an axle is over each of the events; stretches that meet are one. */
export function passages(
  { timeS, rateHz }: Motion,
  { rearM, fromFrame, frontAheadM }: StoredFloor,
  events: readonly PredictedEvent[],
): Frames[] {
  const reach = Math.ceil(KICK_S * rateHz);
  const found: [number, number][] = [];
  const middles = events
    .flatMap(({ atM }) => [atM, atM - frontAheadM])
    .map((place) => rearM.findIndex((rear) => rear >= place))
    .filter((frame) => frame > 0)
    .sort((a, b) => a - b);
  for (const frame of middles) {
    const from = Math.max(0, fromFrame + frame - reach);
    const to = Math.min(timeS.length, fromFrame + frame + reach + 1);
    const before = found.at(-1);
    if (before !== undefined && from <= before[1]) before[1] = to;
    else found.push([from, to]);
  }
  return found;
}

/**
 * Each stretch scaled down to the RMS that the axis has outside of `kicked`, times `share`; a stretch that shakes less stays as it is.
 *
 * @param over stretches at shimmed places
 * @param kicked stretches at all places that are known to kick, shimmed or not
 */
export function quieted(
  vibration: SixAxes,
  over: readonly Frames[],
  kicked: readonly Frames[],
  share = 1,
): SixAxes {
  return held(vibration, over, kicked, (rest) => {
    const usual = share * rms(rest);
    return (stretch) => {
      const gain = Math.min(1, usual / rms(stretch));
      return stretch.map((value, i) => value * (1 - (1 - gain) * taper(i, stretch.length)));
    };
  });
}

/** Each stretch cut at the most that the axis shakes outside of `kicked`: no more than that can be floor. */
export function capped(vibration: SixAxes, over: readonly Frames[], kicked: readonly Frames[]): SixAxes {
  return held(vibration, over, kicked, (rest) => {
    const most = rest.reduce((top, value) => Math.max(top, Math.abs(value)), 0);
    return (stretch) => stretch.map((value) => Math.max(-most, Math.min(most, value)));
  });
}

function held(
  vibration: SixAxes,
  over: readonly Frames[],
  kicked: readonly Frames[],
  against: (rest: Float64Array) => (stretch: Float64Array) => Float64Array,
): SixAxes {
  const frames = vibration.tilt.length;
  const taken = new Uint8Array(frames);
  for (const [from, to] of kicked) taken.fill(1, from, to);
  const count = taken.reduce((sum, value) => sum + value, 0);
  if (over.length === 0 || count > MOST_TAKEN * frames) return vibration;
  return sixAxes((axis) => {
    const series = vibration[axis];
    const hold = against(series.filter((_, t) => taken[t] === 0));
    const out = Float64Array.from(series);
    for (const [from, to] of over) out.set(hold(series.slice(from, to)), from);
    return out;
  });
}

/** 1 in the middle of a stretch, towards 0 within a quarter of it at either end. */
function taper(place: number, count: number): number {
  const edge = Math.max(1, count / 4);
  const inside = Math.min(place + 1, count - place) / edge;
  return inside >= 1 ? 1 : Math.sin((Math.PI / 2) * inside) ** 2;
}
