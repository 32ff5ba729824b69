/**
 * How often the stated intervals and bounds hold the truth, over many simulated passes of all kinds: moves, speeds, shake
 * from a thousandth to a twentieth of a degree and 0.02 to 0.8 mm, tracking noise of 0.03 to 0.12 px, one pass each.
 *
 * The truth is the vibration of that very pass: an interval says how far off the figure may be, and not how another
 * pass would come out.
 */
import { seededRandom } from '../../../src/numerics/index.js';
import { AXES, type Axis } from '../../../src/run/index.js';
import { measurePass } from './measure-pass.js';

/** Axes counted, and how many of them were covered. */
export interface Count {
  readonly total: number;
  readonly covered: number;
}

/** Coverage of a set of passes. */
export interface Coverage {
  /** Intervals of axes with a value, and bounds of axes below their noise. */
  readonly intervals: Count;
  readonly bounds: Count;
  /** Both, per axis. */
  readonly axes: Readonly<Record<Axis, Count>>;
  /** Passes whose translation was refused or that were not measured at all; not counted above. */
  readonly refused: number;
}

const MOVES = ['lateral', 'push', 'arc'] as const;

/** Measures passes number `from` to `to` - 1 with the lenses given, in turn, and counts. */
export function coverageOf(from: number, to: number, lensesMm: readonly number[]): Coverage {
  const outcomes: { axis: Axis; bound: boolean; covered: boolean }[] = [];
  let refused = 0;
  for (let k = from; k < to; k++) {
    const random = seededRandom(7000 + k);
    const between = (a: number, b: number): number => a + (b - a) * random();
    const { motion, scores } = measurePass({
      move: MOVES[k % MOVES.length],
      focalMm: lensesMm[Math.floor(k / MOVES.length) % lensesMm.length],
      speedMps: between(0.08, 0.25),
      // Evenly spread on a logarithmic scale: as many faint as strong.
      angularDeg: 0.001 * 50 ** random(),
      translationalMm: 0.02 * 40 ** random(),
      noisePx: between(0.03, 0.12),
      liveTracks: Math.round(between(70, 95)),
      durationS: 3,
      fps: 25,
      subjectShare: 0.05,
      seed: k + 1,
    });
    if (motion.mode !== 'full' || motion.observable === 'no') {
      refused++;
      continue;
    }
    for (const axis of AXES) {
      const { status, ci95, below } = motion.axes[axis];
      const { trueRms } = scores[axis];
      const bound = status === 'below';
      const covered = bound ? trueRms <= below : ci95 !== null && ci95[0] <= trueRms && trueRms <= ci95[1];
      outcomes.push({ axis, bound, covered });
    }
  }
  const count = (of: typeof outcomes): Count => ({
    total: of.length,
    covered: of.filter(({ covered }) => covered).length,
  });
  return {
    intervals: count(outcomes.filter(({ bound }) => !bound)),
    bounds: count(outcomes.filter(({ bound }) => bound)),
    axes: Object.fromEntries(
      AXES.map((axis) => [axis, count(outcomes.filter((outcome) => outcome.axis === axis))]),
    ) as Record<Axis, Count>,
    refused,
  };
}

/** Share covered, 0..1. */
export function share({ total, covered }: Count): number {
  return covered / total;
}
