/**
 * Setups rolled over simulated floors: series of 25 frames per second, two axles 0.45 m apart at 0.3 m/s, shake above 0.8 Hz, a line with a
 * fifth of the power, noise of which the floor is known to 30 %. Passes over one lane share 85 % of the floor's power. How much passes,
 * lanes and setups differ is drawn anew for each trial, about what the comparison takes for granted. And the same without series: ln RMS
 * alone, with the scatter that a short run gives it.
 */
import { mean } from '../../../../src/numerics/index.js';
import { designOf, type LaneSides } from '../../../../src/judge/compare/design.js';
import { passSpectrum, wholeLevel, type PassLevel } from '../../../../src/judge/compare/pass-level.js';
import {
  ratioOf,
  setupDifference,
  type DifferenceInput,
  type Ratio,
} from '../../../../src/judge/compare/setup-difference.js';
import { ASSUMED_SPREADS } from '../../../../src/judge/compare/types.js';
import { inverseRealFft } from '../../../../src/numerics/index.js';

export const RATE_HZ = 25;
const SPEED_MPS = 0.3;
const AXLES_M = 0.45;
const EXPOSURE_S = 0.02;
const CUTOFF_HZ = 0.8;
const SHARED_POWER = 0.85;
const LINE_POWER = 0.2;
const LINES_HZ = { a: 3.1, b: 4.3 };
const NOISE_KNOWN_TO = 0.3;

/** Where passes are rolled. */
export interface Layout {
  readonly lanes: number;
  /** Lanes of B where they are others than A's, and their number is not the same. */
  readonly lanesB?: number;
  readonly passes: number;
  readonly passesB?: number;
  /** Both setups on every lane, or each on lanes of its own. */
  readonly shared: boolean;
  readonly durationS?: number;
  /** True RMS of B over A. */
  readonly ratio?: number;
  /** Noise power over signal power. */
  readonly noise?: number;
  /** Medians of the true spreads: passes, lanes, setup by lane. */
  readonly spreads?: readonly [number, number, number];
}

/** What one trial drew for its world. */
interface World {
  readonly betweenPasses: number;
  readonly betweenLanes: number;
  readonly setupByLane: number;
}

const DRAWN_ABOUT = [0.08, 0.25, 0.05] as const;
const DRAWN_SD = 0.5;

function drawWorld({ spreads = DRAWN_ABOUT, lanes, shared }: Layout, gaussian: () => number): World {
  const [betweenPasses, betweenLanes, setupByLane] = spreads.map(
    (middle) => middle * Math.exp(DRAWN_SD * gaussian()),
  );
  // What a setup does on one lane is what is asked about there.
  return { betweenPasses, betweenLanes, setupByLane: shared && lanes === 1 ? 0 : setupByLane };
}

/** The lanes of a trial, filled by `pass`. */
function layLanes<Value>(
  layout: Layout,
  world: World,
  gaussian: () => number,
  lane: () => (side: 'a' | 'b', lnLevel: number) => Value,
): LaneSides<Value>[] {
  const { lanes, passes, shared } = layout;
  const counts = { a: passes, b: layout.passesB ?? passes };
  const roll = (pass: ReturnType<typeof lane>, side: 'a' | 'b', lnLane: number): Value[] => {
    const lnSetup =
      lnLane + world.setupByLane * gaussian() + (side === 'b' ? Math.log(layout.ratio ?? 1) : 0);
    return Array.from({ length: counts[side] }, () => pass(side, lnSetup + world.betweenPasses * gaussian()));
  };
  const names = (count: number, word: string): string[] =>
    Array.from({ length: count }, (_, i) => `${word} ${i + 1}`);
  if (shared)
    return names(lanes, 'lane').map((name) => {
      const pass = lane();
      const level = world.betweenLanes * gaussian();
      return { lane: name, a: roll(pass, 'a', level), b: roll(pass, 'b', level) };
    });
  return (['a', 'b'] as const).flatMap((side) =>
    names(side === 'a' ? lanes : (layout.lanesB ?? lanes), `lane of ${side}`).map((name) => ({
      lane: name,
      a: [],
      b: [],
      [side]: roll(lane(), side, world.betweenLanes * gaussian()),
    })),
  );
}

/** One trial with series: levels by three tapers, likeness by correlation. */
export function seriesTrial(layout: Layout, random: () => number, gaussian: () => number): Ratio {
  const { durationS = 10, noise = 0.05 } = layout;
  const frames = Math.round(durationS * RATE_HZ);
  const declared = noise * Math.exp(NOISE_KNOWN_TO * gaussian());
  const bandHz = [CUTOFF_HZ, RATE_HZ / 2] as const;
  const density = declared / (bandHz[1] - bandHz[0]);
  const rolled = layLanes(layout, drawWorld(layout, gaussian), gaussian, () => {
    const common = floorSeries(frames, gaussian);
    return (side, lnLevel) => {
      const own = floorSeries(frames, gaussian);
      const phase = 2 * Math.PI * random();
      const gain = Math.exp(lnLevel);
      const series = common.map((value, t) => {
        const floor = Math.sqrt(SHARED_POWER) * value + Math.sqrt(1 - SHARED_POWER) * own[t];
        const line = Math.SQRT2 * Math.sin((2 * Math.PI * LINES_HZ[side] * t) / RATE_HZ + phase);
        const shake = Math.sqrt(1 - LINE_POWER) * floor + Math.sqrt(LINE_POWER) * line;
        return gain * shake + Math.sqrt(noise) * gaussian();
      });
      const spectrum = passSpectrum(series, RATE_HZ, { plain: density, wide: density });
      const level = spectrum && wholeLevel(series, spectrum, bandHz);
      if (!level) throw new Error('a simulated pass has no level');
      return { series, level };
    };
  });
  const { design, lanes } = designOf(rolled);
  const all = lanes.flatMap(({ a, b }) => [...a, ...b]);
  const pairs = lanes.flatMap(({ a, b }) =>
    a.flatMap((one) => b.map((other) => likeness(one.series, other.series))),
  );
  const share = (side: 'a' | 'b'): number =>
    mean(lanes.flatMap((lane) => lane[side]).map(({ level }) => level.noise / level.freed));
  const ln = ({ level }: { readonly level: PassLevel }): number => level.lnRms;
  return ratioOf(
    setupDifference({
      design,
      lanes: lanes.map(({ lane, a, b }) => ({ lane, a: a.map(ln), b: b.map(ln) })),
      withinVariance: mean(all.map(({ level }) => level.withinVariance)),
      alikeSquared: pairs.length > 0 ? Math.max(0, mean(pairs)) ** 2 : 0,
      spreads: ASSUMED_SPREADS,
      addedVariance: (0.15 * (share('a') - share('b'))) ** 2,
    }),
  );
}

/** Variance of ln RMS of a run of 10 s, and what passes share of it, as the series above have them. */
const LEVEL_VARIANCE = 0.0121;
const LEVEL_ALIKE = 0.68;

/** One trial of ln RMS alone: the scatter of a short run is shared by passes over one lane as their series are. */
export function levelTrial(layout: Layout, gaussian: () => number): DifferenceInput {
  const sd = Math.sqrt(LEVEL_VARIANCE);
  const rolled = layLanes(layout, drawWorld(layout, gaussian), gaussian, () => {
    const common = LEVEL_ALIKE * sd * gaussian();
    return (_, lnLevel) => lnLevel + common + Math.sqrt(1 - LEVEL_ALIKE ** 2) * sd * gaussian();
  });
  const { design, lanes } = designOf(rolled);
  return {
    design,
    lanes,
    withinVariance: LEVEL_VARIANCE,
    alikeSquared: design === 'ownLanes' ? 0 : LEVEL_ALIKE ** 2,
    spreads: ASSUMED_SPREADS,
  };
}

/** Per cent of the trials in which the interval leaves 1 out. */
export function percentFound(trials: number, trial: () => Ratio): number {
  let found = 0;
  for (let i = 0; i < trials; i++) {
    const { ci95 } = trial();
    if (ci95[0] > 1 || ci95[1] < 1) found++;
  }
  return (100 * found) / trials;
}

function likeness(one: Float64Array, other: Float64Array): number {
  let ab = 0;
  let aa = 0;
  let bb = 0;
  for (let t = 0; t < one.length; t++) {
    ab += one[t] * other[t];
    aa += one[t] ** 2;
    bb += other[t] ** 2;
  }
  return ab / Math.sqrt(aa * bb);
}

const amplitudes = new Map<number, Float64Array>();

/** Gaussian shake of variance 1 as two axles show a floor of w = 2. */
export function floorSeries(frames: number, gaussian: () => number): Float64Array {
  const size = 2 ** Math.ceil(Math.log2(frames + RATE_HZ));
  let amplitude = amplitudes.get(size);
  if (!amplitude) {
    const power = Float64Array.from({ length: size / 2 + 1 }, (_, k) => floorPower((k * RATE_HZ) / size));
    const sum = power.reduce((total, value) => total + value, 0);
    amplitude = power.map((value) => (size / 2) * Math.sqrt(value / sum));
    amplitudes.set(size, amplitude);
  }
  const draw = (): Float64Array => (amplitude ?? new Float64Array(0)).map((value) => value * gaussian());
  return inverseRealFft(draw(), draw(), size).slice(0, frames);
}

function floorPower(freqHz: number): number {
  let power = 0;
  for (let fold = -2; fold <= 2; fold++) {
    const f = Math.abs(freqHz + fold * RATE_HZ) + 1e-9;
    const perM = f / SPEED_MPS;
    const blur = Math.sin(Math.PI * f * EXPOSURE_S) / (Math.PI * f * EXPOSURE_S);
    power += perM ** -2 * 4 * Math.sin(Math.PI * perM * AXLES_M) ** 2 * blur ** 2 * 2 ** -((perM / 60) ** 2);
  }
  const highPass = 1 - 1 / (1 + (Math.max(freqHz, 1e-9) / CUTOFF_HZ) ** 8);
  return power * highPass ** 2;
}
