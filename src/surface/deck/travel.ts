/**
 * How the dolly travelled through the clip, from the intended move: the stretch in which it really moved, its speed in m/s, and the
 * direction of travel as the lens saw it, in radians.
 */
import { mean, median, standardDeviation } from '../../numerics/index.js';
import type { Motion } from '../../motion/index.js';

/** The moving part of a pass. */
export interface Travel {
  /** First frame and one past the last. */
  readonly fromFrame: number;
  readonly toFrame: number;
  readonly speedMps: number;
  /** Way since the clip's first frame at each frame of the stretch, metres; rises strictly, and evenly at a steady speed. */
  readonly placeM: Float64Array;
  /** Standard deviation of the speed over its mean, 0 when it could not be seen. */
  readonly speedVariation: number;
  /** Lens azimuth against the travel that was seen; null without parallax. */
  readonly azimuthRad: number | null;
  /** Tilt of the lens against the travel that was seen, + up; 0 when it looks sideways or without parallax. */
  readonly tiltRad: number;
}

/** Frames slower than this share of the median speed count as standing. */
const STANDING_SHARE = 0.3;
/** Below this variation the speed counts as steady. */
const STEADY = 0.005;
/** The lens must look this much along the travel for its tilt to show in it. */
const ALONG = 0.5;

/**
 * Finds the longest stretch without standing or turning back; without visible translation, the whole clip at the mean speed.
 *
 * @param meanSpeedMps speed over the whole clip: travel over duration
 */
export function findTravel(motion: Motion, meanSpeedMps: number): Travel {
  const n = motion.timeS.length;
  if (motion.mode !== 'full' || motion.observable !== 'yes') {
    return {
      fromFrame: 0,
      toFrame: n,
      speedMps: meanSpeedMps,
      placeM: evenPlaces(motion, 0, n, 0, meanSpeedMps),
      speedVariation: 0,
      azimuthRad: null,
      tiltRad: 0,
    };
  }
  const { lateral, vertical, axial } = motion.intended;
  const step = Float64Array.from({ length: n - 1 }, (_, i) =>
    Math.hypot(lateral[i + 1] - lateral[i], vertical[i + 1] - vertical[i], axial[i + 1] - axial[i]),
  );
  const [from, to] = longestMoving(step);
  const scale = meanSpeedMps / mean(step);
  const moving = step.slice(from, to - 1);
  const speedMps = mean(moving) * scale;
  const speedVariation = standardDeviation(moving) / mean(moving);
  const steady = speedVariation < STEADY;
  const along = direction(
    lateral[to - 1] - lateral[from],
    vertical[to - 1] - vertical[from],
    axial[to - 1] - axial[from],
  );
  const metres = scale / motion.rateHz;
  const startM = metres * wayBefore(motion, from, along);
  return {
    fromFrame: from,
    toFrame: to,
    speedMps,
    placeM: steady ? evenPlaces(motion, from, to, startM, speedMps) : summedPlaces(moving, startM, metres),
    speedVariation,
    ...along,
  };
}

function evenPlaces(
  { timeS }: Motion,
  from: number,
  to: number,
  startM: number,
  speedMps: number,
): Float64Array {
  return timeS.slice(from, to).map((t) => startM + speedMps * (t - timeS[from]));
}

function summedPlaces(steps: Float64Array, startM: number, metres: number): Float64Array {
  const places = new Float64Array(steps.length + 1);
  places[0] = startM;
  for (let i = 0; i < steps.length; i++) places[i + 1] = places[i] + metres * steps[i];
  return places;
}

/** Way from the clip's first frame to frame `from` along the later travel, below zero for a dolly that came back, in the path's unit. */
function wayBefore({ intended }: Motion, from: number, { azimuthRad, tiltRad }: Direction): number {
  const { lateral, vertical, axial } = intended;
  const sideways = lateral[from] - lateral[0];
  const up = vertical[from] - vertical[0];
  const ahead = axial[from] - axial[0];
  const level = ahead * Math.cos(tiltRad) - up * Math.sin(tiltRad);
  return level * Math.cos(azimuthRad) - sideways * Math.sin(azimuthRad);
}

function longestMoving(step: Float64Array): [number, number] {
  const limit = STANDING_SHARE * median(step);
  let best: [number, number] = [0, 0];
  let start = 0;
  for (let i = 0; i <= step.length; i++) {
    if (i < step.length && step[i] > limit) continue;
    if (i - start > best[1] - best[0]) best = [start, i];
    start = i + 1;
  }
  return [best[0], best[1] + 1];
}

interface Direction {
  readonly azimuthRad: number;
  readonly tiltRad: number;
}

function direction(lateral: number, vertical: number, axial: number): Direction {
  const along = Math.sign(axial) * Math.hypot(axial, vertical);
  const azimuthRad = Math.atan2(-lateral, along);
  const tiltRad = Math.abs(Math.cos(azimuthRad)) > ALONG ? Math.atan(-vertical / axial) : 0;
  return { azimuthRad, tiltRad };
}
