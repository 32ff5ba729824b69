/**
 * One question of a comparison: how the shake of two setups on one axis, in one band, compares. From the levels of their passes (ln RMS,
 * noise and its share) to a difference, or to why none can be told.
 */
import { mean } from '../../numerics/index.js';
import type { Axis } from '../../run/index.js';
import { lanesWith, type LaneDesign, type LaneSides } from './design.js';
import type { PassLevel } from './pass-level.js';
import {
  ratioOf,
  setupDifference,
  type Difference,
  type DifferenceInput,
  type Ratio,
} from './setup-difference.js';
import type { Spreads } from './types.js';

/** The noise floor is known to this share of its square; passes of like cameras share the error. */
const NOISE_SD = 0.15;
/** A setup whose power is less than twice its noise has a bound, no level. */
const CLEAR_OF_NOISE = 2;

/** What is asked. */
export interface AxisQuestion {
  readonly axis: Axis;
  readonly unit: string;
  /** From the unit of the levels to `unit`. */
  readonly scale: number;
  /** Levels by lane; null where a pass cannot tell. */
  readonly design: LaneDesign<PassLevel | null>;
  /** What A and B share on the same lane, 0..1. */
  readonly alikeSquared: number;
  readonly spreads: Spreads;
  /** Cameras and codec are alike, so the error of the noise floor is one for both. */
  readonly noiseShared: boolean;
  readonly addedVariance?: number;
}

/** A setup under its noise: the bound of each side that is, in the unit of the question. */
export interface BelowNoise {
  readonly a: number | null;
  readonly b: number | null;
  /** How far the ratio A/B can go, one-sided (97.5 %): its most where A is below, its least where B is; null when both are. */
  readonly bound: number | null;
  /**
   * Two-sided p of a ratio at the bound against none: of the true ratio, which lies further off, it is no less. 1 where the bound does
   * not say who is smoother, null when both are below.
   */
  readonly p: number | null;
}

/** What came out: either a difference with its ratio, or a bound, or that a pass cannot tell. */
export interface AxisAnswer {
  readonly question: AxisQuestion;
  readonly aRms: number | null;
  readonly bRms: number | null;
  readonly compared: {
    readonly input: DifferenceInput;
    readonly found: Difference;
    readonly ratio: Ratio;
  } | null;
  readonly belowNoise: BelowNoise | null;
  /** The side of which a pass cannot tell the axis. */
  readonly untold: 'a' | 'b' | 'both' | null;
}

/** Answers a question. @throws RangeError when a side has no pass */
export function answerFor(question: AxisQuestion): AxisAnswer {
  const { design, scale } = question;
  const nothing = { question, aRms: null, bRms: null, compared: null, belowNoise: null, untold: null };
  const told = { a: toldBy(design.lanes, 'a'), b: toldBy(design.lanes, 'b') };
  if (!told.a || !told.b) return { ...nothing, untold: told.a ? 'b' : told.b ? 'a' : 'both' };
  const lanes = design.lanes.map(({ lane, a, b }) => ({ lane, a: a as PassLevel[], b: b as PassLevel[] }));
  const clear = { a: isClear(lanes, 'a'), b: isClear(lanes, 'b') };
  const rms = (side: 'a' | 'b'): number | null => (clear[side] ? scale * rmsOf(lanes, side) : null);
  const answer = { ...nothing, aRms: rms('a'), bRms: rms('b') };
  if (!clear.a || !clear.b) return { ...answer, belowNoise: belowNoise(question, lanes, clear) };
  const input = inputFor(question, lanes, ({ lnRms }) => lnRms);
  const found = setupDifference(input);
  return { ...answer, compared: { input, found, ratio: ratioOf(found) } };
}

type Lanes = readonly LaneSides<PassLevel>[];

function toldBy(lanes: readonly LaneSides<PassLevel | null>[], side: 'a' | 'b'): boolean {
  return lanes.every((lane) => !lane[side].includes(null));
}

const levels = (lanes: Lanes, side: 'a' | 'b'): PassLevel[] => lanes.flatMap((lane) => [...lane[side]]);

function isClear(lanes: Lanes, side: 'a' | 'b'): boolean {
  const all = levels(lanes, side);
  return mean(all.map(({ power }) => power)) >= CLEAR_OF_NOISE * mean(all.map(({ wideNoise }) => wideNoise));
}

/** Mean over lanes, lane means first, in the logarithm. */
function meanOverLanes(lanes: Lanes, side: 'a' | 'b', of: (level: PassLevel) => number): number {
  return mean(lanesWith(lanes, side).map((lane) => mean(lane[side].map(of))));
}

function rmsOf(lanes: Lanes, side: 'a' | 'b'): number {
  return Math.exp(meanOverLanes(lanes, side, ({ lnRms }) => lnRms));
}

function inputFor(
  { design, alikeSquared, spreads, noiseShared, addedVariance = 0 }: AxisQuestion,
  lanes: Lanes,
  of: (level: PassLevel) => number,
): DifferenceInput {
  const all = [...levels(lanes, 'a'), ...levels(lanes, 'b')];
  const noise = (side: 'a' | 'b'): number =>
    NOISE_SD * meanOverLanes(lanes, side, (level) => level.noise / level.freed);
  const noiseVariance = noiseShared ? (noise('a') - noise('b')) ** 2 : noise('a') ** 2 + noise('b') ** 2;
  return {
    design: design.design,
    lanes: lanes.map(({ lane, a, b }) => ({ lane, a: a.map(of), b: b.map(of) })),
    withinVariance: mean(all.map(({ withinVariance }) => withinVariance)),
    alikeSquared,
    spreads,
    addedVariance: addedVariance + noiseVariance,
  };
}

/** The side under the noise stands at its bound; the far end of the interval then bounds the ratio. */
function belowNoise(
  question: AxisQuestion,
  lanes: Lanes,
  clear: { readonly a: boolean; readonly b: boolean },
): BelowNoise {
  const bound = (side: 'a' | 'b'): number | null =>
    clear[side] ? null : question.scale * Math.max(...levels(lanes, side).map(({ below }) => below));
  const sides = { a: bound('a'), b: bound('b') };
  if (!clear.a && !clear.b) return { ...sides, bound: null, p: null };
  const atBound = clear.a ? 'b' : 'a';
  const raised = lanes.map((lane) => ({
    ...lane,
    [atBound]: lane[atBound].map((level) => ({
      ...level,
      lnRms: Math.log(level.below),
      noise: 0,
      // A bound holds its noise already.
      withinVariance: level.withinVariance * (level.freed / level.power) ** 2,
    })),
  }));
  const { ratio, p, ci95 } = ratioOf(setupDifference(inputFor(question, raised, ({ lnRms }) => lnRms)));
  const told = clear.a ? ratio > 1 : ratio < 1;
  return { ...sides, bound: clear.a ? ci95[0] : ci95[1], p: told ? p : 1 };
}
