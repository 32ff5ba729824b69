/**
 * How much each lane shakes, px RMS of the delivery, with its range, and which lanes are clearly better than which.
 *
 * The stretch of a lane that was rolled over is all there is to know of it, so only what changes from pass to pass is error: sd of
 * ln RMS as the passes of a lane show it, with what is assumed (or known from the log) counting as `degrees` degrees of freedom. The
 * unit is the pass within its lane; seconds of a pass are no sample. Own derivation.
 */
import { mean, studentCdf, studentQuantile } from '../../numerics/index.js';
import type { Spreads } from '../compare/types.js';
import type { EvenPasses } from './even-setups.js';

/** One lane. */
export interface LaneFigure {
  readonly name: string;
  readonly lnRms: number;
  /** Half of the 95 % range of lnRms. */
  readonly halfRange: number;
  readonly passes: number;
  /** Below the noise in every pass: lnRms is a bound. */
  readonly hidden: boolean;
}

/** The lanes, steadiest first, and what can be said of them. */
export interface LaneRanking {
  readonly lanes: readonly LaneFigure[];
  /** Whether the first lane is clearly steadier than the one of this rank (0 is the first). */
  readonly clearlyWorse: (rank: number) => boolean;
  /** ln ratio of two ranks, the later over the first, with its 95 % range. */
  readonly ratio: (rank: number) => { readonly ln: number; readonly halfRange: number };
}

/**
 * Squared sd of ln RMS times the seconds of a pass, for the part of the shake that a second pass over the same lane does not
 * repeat: about 0.12 s for all of the shake (simulated: sd 0.15, 0.11, 0.08, 0.07 after 5, 10, 20, 30 s), of which 28 % is not the
 * floor's where passes share 85 % of their power. Own measurement.
 */
const UNREPEATED_S = 0.12 * (1 - 0.85 ** 2);
/** Chance of a false "clearly" over all pairs of lanes. */
const ALPHA = 0.05;

/** Ranks the lanes. */
export function rankLanes({ lanes, passes, others, excess }: EvenPasses, spreads: Spreads): LaneRanking {
  const groups = lanes.map((name) => {
    const own = passes.filter(({ compared }) => compared.lane === name);
    const values = own.map((pass) => pass.lnRms - excess(pass));
    return { name, own, values, lnRms: mean(values) };
  });
  const unrepeated = mean(passes.map(({ durationS }) => UNREPEATED_S / durationS));
  let squares = 0;
  // Each setup beside the first costs a degree: its mean was taken off.
  let repeats = -others.length;
  for (const { values, lnRms } of groups) {
    squares += values.reduce((sum, value) => sum + (value - lnRms) ** 2, 0);
    repeats += values.length - 1;
  }
  const degrees = spreads.degrees + repeats;
  const variance = (spreads.degrees * (spreads.betweenPasses ** 2 + unrepeated) + squares) / degrees;
  const t95 = studentQuantile(0.975, degrees);
  const figures = groups
    .map(({ name, own, values, lnRms }) => ({
      ...{ name, lnRms },
      halfRange: t95 * Math.sqrt(variance / values.length),
      passes: values.length,
      hidden: own.every(({ hidden }) => hidden),
    }))
    .sort((a, b) => a.lnRms - b.lnRms);
  const pairs = (figures.length * (figures.length - 1)) / 2;
  const sdTo = (rank: number): number =>
    Math.sqrt(variance * (1 / figures[0].passes + 1 / figures[rank].passes));
  const lnTo = (rank: number): number => figures[rank].lnRms - figures[0].lnRms;
  return {
    lanes: figures,
    // A bound is never clearly worse than anything.
    clearlyWorse: (rank) =>
      rank > 0 && !figures[rank].hidden && 2 * studentCdf(-lnTo(rank) / sdTo(rank), degrees) * pairs < ALPHA,
    ratio: (rank) => ({ ln: lnTo(rank), halfRange: t95 * sdTo(rank) }),
  };
}
