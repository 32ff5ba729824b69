/** Which part of a horizontal axis is shown after a step closer, wider or aside; null stands for the whole. Pure functions. */
import type { Stretch } from '../charts/index.js';

/** An axis that can be looked at in part. */
export interface ZoomAxis {
  readonly whole: Stretch;
  /** True when it is logarithmic: steps then keep their ratio. */
  readonly log: boolean;
  /** The shortest stretch that can be shown, for an axis that is not logarithmic. */
  readonly closest?: number;
}

/** The smallest part of the whole that can be shown: closer, there are no samples left to see. */
const SMALLEST = 1 / 256;
/** How far a step aside goes, as a part of what is shown. */
const ASIDE = 0.5;
/** Below this part of the whole, what is missing at the ends cannot be seen. */
const HAIR = 1e-6;

/** Half as much, around a place that stays where it is in the picture. */
export function closer(axis: ZoomAxis, shown: Stretch | null, about: number | null): Stretch | null {
  return scaled(axis, shown, about, 0.5);
}

/** Twice as much, around a place that stays where it is in the picture as far as the ends allow. */
export function wider(axis: ZoomAxis, shown: Stretch | null, about: number | null): Stretch | null {
  return scaled(axis, shown, about, 2);
}

/** As much, half of what is shown further on; `way` is -1 towards the lower end, 1 towards the upper. */
export function aside(axis: ZoomAxis, shown: Stretch | null, way: 1 | -1): Stretch | null {
  if (shown === null) return null;
  const [from, to] = shares(axis, shown);
  const by = way * ASIDE * (to - from);
  const kept = Math.min(1 - to, Math.max(-from, by));
  return stretchOfShares(axis, from + kept, to + kept);
}

/** The stretch between two places in either order, as wide as the smallest that can be shown at least. */
export function between(axis: ZoomAxis, one: number, other: number): Stretch | null {
  const [a, b] = shares(axis, [Math.min(one, other), Math.max(one, other)]);
  const half = Math.max(b - a, smallest(axis)) / 2;
  return shifted(axis, (a + b) / 2 - half, 2 * half);
}

function scaled(axis: ZoomAxis, shown: Stretch | null, about: number | null, factor: number): Stretch | null {
  const [from, to] = shares(axis, shown ?? axis.whole);
  const [place] = shares(axis, [about ?? Number.NaN, 0]);
  const fixed = place >= from && place <= to ? place : (from + to) / 2;
  const width = Math.max(smallest(axis), factor * (to - from));
  return shifted(axis, fixed - ((fixed - from) / (to - from)) * width, width);
}

/** The smallest part of the whole that can be shown. */
function smallest({ whole: [low, high], closest = 0 }: ZoomAxis): number {
  return Math.min(1, Math.max(SMALLEST, closest / (high - low)));
}

/** A stretch by its lower end and width as parts of the whole, pushed inside of it. */
function shifted(axis: ZoomAxis, from: number, width: number): Stretch | null {
  const inside = Math.min(1 - width, Math.max(0, from));
  return width >= 1 ? null : stretchOfShares(axis, inside, inside + width);
}

/** Two places as parts of the whole, 0 to 1. */
function shares({ whole: [low, high], log }: ZoomAxis, [from, to]: Stretch): [number, number] {
  const share = (value: number): number =>
    log ? Math.log(value / low) / Math.log(high / low) : (value - low) / (high - low);
  return [share(from), share(to)];
}

function stretchOfShares({ whole: [low, high], log }: ZoomAxis, from: number, to: number): Stretch | null {
  if (from < HAIR && to > 1 - HAIR) return null;
  const value = (share: number): number => (log ? low * (high / low) ** share : low + share * (high - low));
  return [value(from), value(to)];
}
