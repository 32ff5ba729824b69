/** Scores of one family of shapes at many places of a stretch, before and while the floor is freed elsewhere; no unit. */
import { chiSquareQuantile } from '../../numerics/index.js';
import type { FreedFloor, FreedStep } from './release-floor.js';
import { along, columnAt, type SparseColumn, type UnitShape } from './shapes.js';

/** Size of an added shape beforehand, metres: keeps shapes that are not seen at zero. */
const SHAPE_SIZE_M = 0.005;
/** ... and of a narrow dip: a wheel of 75 mm sinks 0.2 mm into a gap of 10 mm, and no wheel rises over less than its own width. */
const DIP_SIZE_M = 0.001;

/** Shapes that are fitted together at one place: at most two under the mean of the tracks, one as left minus right. */
export interface ShapeFamily {
  readonly mean: readonly UnitShape[];
  readonly difference: UnitShape;
  /** 0 for the shapes of a joint, metres. */
  readonly lengthM: number;
  /** Alarms by chance that this family may give, over those of the whole list. */
  readonly alarmShare: number;
}

/** Fitted heights at one place, metres: of the shapes under the mean, and of the left track above the right one. */
export interface FittedHeights {
  readonly mean: readonly number[];
  readonly difference: number;
}

/** The floor under a stretch as both sums of the tracks see it; `difference` is null without deck roll. */
export interface FreedTracks {
  readonly mean: FreedFloor;
  readonly difference: FreedFloor | null;
}

/** Score that a floor of nothing but roughness exceeds at a place with the chance `tail`. */
export function scoreThreshold(degreesOfFreedom: number, tail: number): number {
  return chiSquareQuantile(1 - Math.min(0.5, tail), degreesOfFreedom);
}

/** Scores of a family: h' s with h the fitted heights and s the score of the shapes; chi-square where the floor is only rough. */
export class FamilyScores {
  readonly degreesOfFreedom: number;
  private readonly mean: TrackScores;
  private readonly difference: TrackScores | null;

  constructor(
    readonly family: ShapeFamily,
    tracks: FreedTracks,
    placesM: Readonly<Float64Array>,
  ) {
    this.mean = new TrackScores(tracks.mean, family.mean, placesM);
    this.difference = tracks.difference && new TrackScores(tracks.difference, [family.difference], placesM);
    this.degreesOfFreedom = family.mean.length + (this.difference ? 1 : 0);
  }

  /** Takes in that a step was freed under the mean or in the difference. */
  takeIn(track: 'mean' | 'difference', step: FreedStep): void {
    if (track === 'mean') this.mean.takeIn(step);
    else this.difference?.takeIn(step);
  }

  /** Score at the place with that index. */
  scoreAt(place: number): number {
    return this.mean.scoreAt(place) + this.differenceScoreAt(place);
  }

  /** The part of it that left minus right gives; 0 without deck roll. */
  differenceScoreAt(place: number): number {
    return this.difference?.scoreAt(place) ?? 0;
  }

  /** Score there of one shape under the mean alone, with its own left minus right when `withDifference`. */
  aloneAt(place: number, shape: number, withDifference: boolean): number {
    return this.mean.aloneAt(place, shape) + (withDifference ? this.differenceScoreAt(place) : 0);
  }

  /** Heights that the score stands for. */
  heightsAt(place: number): FittedHeights {
    return { mean: this.mean.heightsAt(place), difference: this.difference?.heightsAt(place)[0] ?? 0 };
  }
}

/** One or two shapes at every place under one sum of the tracks. */
class TrackScores {
  private readonly columns: readonly (readonly SparseColumn[])[];
  /** Information on the first shape, the second, and both together; scores of either. */
  private readonly first: Float64Array;
  private readonly second: Float64Array;
  private readonly both: Float64Array;
  private readonly scores: readonly Float64Array[];

  constructor(floor: FreedFloor, shapes: readonly UnitShape[], placesM: Readonly<Float64Array>) {
    this.columns = shapes.map((shape) =>
      Array.from(placesM, (place) => columnAt(shape, place, floor.nodesM)),
    );
    const of = (a: number, b: number): Float64Array =>
      b < shapes.length
        ? Float64Array.from(placesM, (_, k) => floor.product(this.columns[a][k], this.columns[b][k]))
        : new Float64Array(0);
    this.first = of(0, 0);
    this.second = of(1, 1);
    this.both = of(0, 1);
    this.scores = this.columns.map((columns) => Float64Array.from(columns, (column) => floor.score(column)));
  }

  takeIn({ weights, pull }: FreedStep): void {
    const [firsts, seconds] = this.columns;
    const [firstScores, secondScores] = this.scores;
    for (let k = 0; k < firsts.length; k++) {
      const a = along(firsts[k], weights);
      this.first[k] -= a * a;
      firstScores[k] -= a * pull;
      if (seconds === undefined) continue;
      const b = along(seconds[k], weights);
      this.second[k] -= b * b;
      this.both[k] -= a * b;
      secondScores[k] -= b * pull;
    }
  }

  heightsAt(k: number): number[] {
    const a = this.scores[0][k];
    const aa = this.first[k] + SHAPE_SIZE_M ** -2;
    if (this.scores.length === 1) return [a / aa];
    const b = this.scores[1][k];
    const bb = this.second[k] + DIP_SIZE_M ** -2;
    const ab = this.both[k];
    const dip = (b * aa - a * ab) / (aa * bb - ab * ab);
    // A dip of less than no depth is none.
    return dip > 0 ? [(a - ab * dip) / aa, dip] : [a / aa, 0];
  }

  scoreAt(k: number): number {
    const heights = this.heightsAt(k);
    return heights.reduce((sum, height, shape) => sum + height * this.scores[shape][k], 0);
  }

  aloneAt(k: number, shape: number): number {
    if (shape === 0) return this.scores[0][k] ** 2 / (this.first[k] + SHAPE_SIZE_M ** -2);
    return Math.max(0, this.scores[1][k]) ** 2 / (this.second[k] + DIP_SIZE_M ** -2);
  }
}
