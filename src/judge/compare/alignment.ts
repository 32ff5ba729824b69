/**
 * How far two passes over one lane shake alike: their vibration laid over each other by place (metres of travel), and the correlation of
 * each axis there. What both share cancels in a comparison; where they cannot be aligned it is taken for nothing, which is safe.
 */
import { realFft } from '../../numerics/index.js';
import { isAngular, type Axis } from '../../run/index.js';
import { cellShares } from './pass-level.js';
import { SAME_SPEED, speedRange } from './pass-identity.js';
import type { PreparedPass } from './prepared-pass.js';

/** Crews start a pass at a mark, and the clip a moment before or after: by so much, or so much of the pass, it may be off. */
const OFF_BY_M = 0.5;
const OFF_BY_SHARE = 0.2;
/** Less of the shorter pass in common is no comparison. */
const LEAST_OVERLAP = 0.6;
/**
 * A search over all these places finds this much correlation, averaged over three axes, by chance in one of 60 pairs of different lanes of
 * 5 s, in none of 300 of 10 s: less is no alignment. Where passes do share more, the search gives it without a bias (simulated floors).
 */
const CHANCE = 0.4;
const LEAST_SAMPLES = 40;
/** Cells that a Hann window makes dependent. */
const HANN_CELLS = 1.94;

/** Two passes by place. */
export interface AlignedPasses {
  /** Correlation of each axis, -1..1; without an axis that one of them cannot tell. */
  readonly correlation: Readonly<Partial<Record<Axis, number>>>;
  /** Squared coherence in a band of seconds' frequencies, 0..1, freed of what chance adds; 0 in a band of too few cells. */
  coherenceIn(axis: Axis, fromHz: number, toHz: number): number;
}

/**
 * Lays two passes over each other.
 *
 * Both are read at even steps of travel. A pass against the other's direction is turned round; its sign is then open (a dolly that
 * was turned tilts the other way over the same rise), so the size of the correlation counts. The shift that fits the angles best is
 * taken within what a mark may be off.
 *
 * @returns null when place or speed is not known, speeds differ by more than 5 %, or no shift fits better than chance
 */
export function alignPasses(one: PreparedPass, other: PreparedPass): AlignedPasses | null {
  const speeds = speedRange([one.speedMps, other.speedMps]);
  if (speeds === null || speeds > SAME_SPEED || !one.placeM || !other.placeM) return null;
  const rateHz = Math.min(one.rateHz, other.rateHz);
  const stepM = (one.speedMps ?? 0) / rateHz;
  const turned = isTurned(one, other);
  const shared = (Object.keys(one.axes) as Axis[]).filter((axis) => other.axes[axis]);
  const guides = shared.filter((axis) => isAngular(axis) && isClear(one, axis) && isClear(other, axis));
  if (guides.length === 0) return null;
  const here = byPlace(one, shared, stepM, false);
  const there = byPlace(other, shared, stepM, turned);
  const length = Math.min(here.length, there.length);
  const overlap = Math.max(LEAST_SAMPLES, Math.ceil(LEAST_OVERLAP * length));
  const reach = Math.round(Math.min(OFF_BY_M / stepM, OFF_BY_SHARE * length));
  // Turned round, the pass begins where the other ends.
  const middle = !turned ? Math.round((there.firstM - here.firstM) / stepM) : 0;
  const sized = (r: number): number => (turned ? Math.abs(r) : r);
  let best: { shift: number; fit: number } | null = null;
  for (let shift = middle - reach; shift <= middle + reach; shift++) {
    if (overlapOf(here.length, there.length, shift) < overlap) continue;
    const fits = guides.map((axis) => sized(correlationAt(here.series(axis), there.series(axis), shift)));
    const fit = fits.reduce((sum, r) => sum + r, 0) / fits.length;
    if (!best || fit > best.fit) best = { shift, fit };
  }
  if (!best || best.fit < CHANCE) return null;
  const { shift } = best;
  const correlation: Partial<Record<Axis, number>> = {};
  for (const axis of shared)
    correlation[axis] = sized(correlationAt(here.series(axis), there.series(axis), shift));
  return {
    correlation,
    coherenceIn: (axis, fromHz, toHz) => {
      if (!shared.includes(axis)) return 0;
      const [a, b] = common(here.series(axis), there.series(axis), shift);
      return coherence(a, b, rateHz, fromHz, toHz);
    },
  };
}

function isTurned(one: PreparedPass, other: PreparedPass): boolean {
  const [a, b] = [one.compared.direction ?? 'out', other.compared.direction ?? 'out'];
  return a !== b;
}

/** Noise does not decide where passes lie. */
function isClear({ axes }: PreparedPass, axis: Axis): boolean {
  const level = axes[axis]?.level;
  return level !== undefined && level.power > 2 * level.wideNoise;
}

interface ByPlace {
  readonly firstM: number;
  readonly length: number;
  series(axis: Axis): Float64Array;
}

/** The series at even steps of travel, straight between samples; turned round from its far end when asked. */
function byPlace(pass: PreparedPass, axes: readonly Axis[], stepM: number, turned: boolean): ByPlace {
  const places = pass.placeM ?? new Float64Array(0);
  const firstM = places[0] ?? 0;
  const lastM = places[places.length - 1] ?? 0;
  const length = Math.max(0, Math.floor((lastM - firstM) / stepM) + 1);
  const columns = new Map<Axis, Float64Array>();
  for (const axis of axes) {
    const column = new Float64Array(length);
    let left = 0;
    for (let i = 0; i < length; i++) {
      const atM = firstM + i * stepM;
      while (left + 2 < places.length && places[left + 1] <= atM) left++;
      const gap = places[left + 1] - places[left];
      const share = gap > 0 ? Math.min(1, Math.max(0, (atM - places[left]) / gap)) : 0;
      column[i] = pass.series[axis][left] * (1 - share) + pass.series[axis][left + 1] * share;
    }
    columns.set(axis, turned ? column.reverse() : column);
  }
  return { firstM, length, series: (axis) => columns.get(axis) ?? new Float64Array(length) };
}

/** Samples in common when sample i of one lies over sample i - shift of the other. */
function overlapOf(one: number, other: number, shift: number): number {
  return Math.min(one, other + shift) - Math.max(0, shift);
}

function common(
  one: Float64Array,
  other: Float64Array,
  shift: number,
): readonly [Float64Array, Float64Array] {
  const from = Math.max(0, shift);
  const count = Math.max(0, overlapOf(one.length, other.length, shift));
  return [one.subarray(from, from + count), other.subarray(from - shift, from - shift + count)];
}

function correlationAt(one: Float64Array, other: Float64Array, shift: number): number {
  const [a, b] = common(one, other, shift);
  let ab = 0;
  let aa = 0;
  let bb = 0;
  for (let i = 0; i < a.length; i++) {
    ab += a[i] * b[i];
    aa += a[i] * a[i];
    bb += b[i] * b[i];
  }
  return aa > 0 && bb > 0 ? ab / Math.sqrt(aa * bb) : 0;
}

/** |sum X Y*|^2 over the band, over both powers, less what m independent cells give by chance: (r^2 - 1/m) / (1 - 1/m). */
function coherence(a: Float64Array, b: Float64Array, rateHz: number, fromHz: number, toHz: number): number {
  const n = a.length;
  if (n < LEAST_SAMPLES) return 0;
  const window = Float64Array.from({ length: n }, (_, i) => 1 - Math.cos((2 * Math.PI * (i + 0.5)) / n));
  const x = realFft(a.map((value, i) => value * window[i]));
  const y = realFft(b.map((value, i) => value * window[i]));
  const freqHz = Float64Array.from(x.re, (_, bin) => (bin * rateHz) / n);
  const shares = cellShares(freqHz, fromHz, toHz);
  const independent = shares.reduce((sum, share) => sum + share, 0) / HANN_CELLS;
  if (independent < 1.5) return 0;
  let re = 0;
  let im = 0;
  let xx = 0;
  let yy = 0;
  for (let k = 0; k < shares.length; k++) {
    re += shares[k] * (x.re[k] * y.re[k] + x.im[k] * y.im[k]);
    im += shares[k] * (x.im[k] * y.re[k] - x.re[k] * y.im[k]);
    xx += shares[k] * (x.re[k] ** 2 + x.im[k] ** 2);
    yy += shares[k] * (y.re[k] ** 2 + y.im[k] ** 2);
  }
  if (!(xx > 0 && yy > 0)) return 0;
  const squared = (re * re + im * im) / (xx * yy);
  return Math.max(0, (squared - 1 / independent) / (1 - 1 / independent));
}

/** Mean over pairs of passes of the correlation of each axis, 0..1: pairs that could not be aligned count 0. */
export function alikeOf(pairs: readonly (AlignedPasses | null)[], axis: Axis): number {
  if (pairs.length === 0) return 0;
  const sum = pairs.reduce((total, pair) => total + (pair?.correlation[axis] ?? 0), 0);
  return Math.min(1, Math.max(0, sum / pairs.length));
}

/** The same of the squared coherence in a band. */
export function coherenceOf(
  pairs: readonly (AlignedPasses | null)[],
  axis: Axis,
  fromHz: number,
  toHz: number,
): number {
  if (pairs.length === 0) return 0;
  const sum = pairs.reduce((total, pair) => total + (pair?.coherenceIn(axis, fromHz, toHz) ?? 0), 0);
  return Math.min(1, sum / pairs.length);
}
