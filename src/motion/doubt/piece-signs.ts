/**
 * What one piece of a clip shows that speaks for doubt of its figures: a lens that changes, a picture that slides under it, tracks that
 * belong to something else, rows that tell another readout. Each threshold lies well above what honest passes show (own trials), since
 * a false alarm costs more trust than a silence.
 */
import { fourthDifferenceSmooth, rms } from '../../numerics/index.js';
import { LOWEST_SIGMA_SHARE } from '../adjust.js';
import { SPLIT_DEFAULTS } from '../options.js';
import type { ClipScale, SolvedPiece } from '../piece.js';
import { poseSeries, vibrationOf } from '../series.js';
import { focalCourse, type FocalCourse } from './focal-course.js';
import { lensMoves, type LensMoves } from './lens-moves.js';
import type { ReadoutAgainst } from './readout-against.js';
import { strangers } from './strangers.js';

/** A sign of doubt in a piece; of those of a kind the largest is told. */
export type DoubtSign =
  | {
      /**
       * slide: the picture under the lens, RMS, rad; focal: slow change of the focal length, as a share of it; hunting: fast one, RMS;
       * subject: share of the tracks that belong to something else than the scene.
       */
      readonly kind: 'slide' | 'focal' | 'hunting' | 'subject';
      readonly size: number;
      /** Where in the clip, seconds; null for all through. */
      readonly atS: number | null;
    }
  | ({ readonly kind: 'readout' } & ReadoutAgainst);

/** A slow course of the focal length: squared deviations, deviations of the range, and least range that is worth a word. */
const COURSE_CHI_SQUARE = 150;
const COURSE_DEVIATIONS = 8;
const LEAST_COURSE = 0.002;
/** ... or the share of the tracks that only a scene freed of the course explains. */
const MORE_AGREE = 0.1;
/** A fast change of the scale: over its noise, and at all. */
const FAST_OVER_NOISE = 2.5;
const LEAST_FAST = 2e-4;
/** A lens that moves faster than the scene follows moves most tracks off it: they are asked up to so many times the noise. */
const LOOSE = 8;
/** A slide of the picture under the lens: over its noise, and over what the picture still turns. */
const SLIDE_OVER_NOISE = 2;
const SLIDE_OVER_TURN = 0.7;
/**
 * Share of the tracks from which something that moves by itself is told, and how far it must lie together or move as one. Figures
 * that walk through at a third of the tracks did no harm; at 45 % they may be taken for the room.
 */
const MUCH_BY_ITSELF = 0.38;
const TOGETHER = 0.4;
const RIGID = 0.6;
/** Frames without a value above this share leave a series aside. */
const MOST_MISSING = 0.1;

/** A piece and what its signs are counted in. */
interface SignsOf {
  readonly piece: SolvedPiece;
  readonly clip: ClipScale;
  readonly sigmaStart: number;
  readonly moves: LensMoves;
  /** What a column of the piece does faster than the cut-off. */
  readonly fast: (values: Float64Array, deviations: Float64Array) => Fast | null;
  readonly cutoffHz: number;
}

/**
 * Looks for the signs of a solved piece, which is not changed.
 *
 * @param sigmaStart expected noise per axis, normalised
 * @param cutoffHz where vibration begins
 */
export function pieceSigns(
  piece: SolvedPiece,
  clip: ClipScale,
  sigmaStart: number,
  cutoffHz: number,
): DoubtSign[] {
  const { readoutAgainst } = piece;
  const of: SignsOf = {
    ...{ piece, clip, sigmaStart, cutoffHz },
    moves: movesOf(piece, sigmaStart, 1),
    fast: (values, deviations) => fastPart(values, deviations, clip.rateHz, cutoffHz),
  };
  // Tracks that a changing lens moves off the scene share a motion, too: then nothing is said of a subject.
  const focal = huntingSign(of) ?? focalSign(of);
  return [
    ...(readoutAgainst ? [{ kind: 'readout' as const, ...readoutAgainst }] : []),
    ...(focal ? [focal] : subjectSign(of)),
    ...slideSigns(of),
  ];
}

function movesOf(
  { observations, scene, mode }: SolvedPiece,
  sigmaStart: number,
  looseness: number,
): LensMoves {
  const lowestSigma = LOWEST_SIGMA_SHARE * sigmaStart;
  return lensMoves(observations, scene, mode === 'rotationOnly', lowestSigma, looseness);
}

function focalSign({ piece, clip, sigmaStart }: SignsOf): DoubtSign | null {
  const course = focalCourse(piece.observations, piece.scene, sigmaStart);
  if (!isTold(course)) return null;
  return { kind: 'focal', size: course.range, atS: clip.timeS[steepestFrame(course)] };
}

function huntingSign({ piece, sigmaStart, moves, fast }: SignsOf): DoubtSign | null {
  const size = Math.max(
    ...[moves, movesOf(piece, sigmaStart, LOOSE)].map(({ scale, scaleSd }) => {
      const told = fast(scale, scaleSd);
      return told && told.overNoise > FAST_OVER_NOISE ? told.size : 0;
    }),
  );
  return size > LEAST_FAST ? { kind: 'hunting', size, atS: null } : null;
}

function slideSigns({ piece, clip, moves, fast, cutoffHz }: SignsOf): DoubtSign[] {
  const { scene, readout, readoutAgainst } = piece;
  // Rows that nobody freed of their readout bend the picture much as a slide does.
  if (readoutAgainst || readout.state === 'notMeasurable') return [];
  const path = poseSeries(scene.rotations, scene.centres);
  const { pan, tilt } = vibrationOf(path, clip.rateHz, cutoffHz).vibration;
  return [
    { slide: fast(moves.slideX, moves.slideXSd), turnRad: rms(pan) },
    { slide: fast(moves.slideY, moves.slideYSd), turnRad: rms(tilt) },
  ].flatMap(({ slide, turnRad }) =>
    slide && slide.overNoise > SLIDE_OVER_NOISE && slide.size > SLIDE_OVER_TURN * turnRad
      ? [{ kind: 'slide' as const, size: slide.size, atS: null }]
      : [],
  );
}

function subjectSign({ piece: { observations, scene }, clip }: SignsOf): DoubtSign[] {
  const some = strangers(observations, scene, clip);
  if (!some || some.share < MUCH_BY_ITSELF || (some.together < TOGETHER && some.rigid < RIGID)) return [];
  return [{ kind: 'subject', size: some.share, atS: clip.timeS[some.first] }];
}

function isTold({ chiSquare, range, rangeSd, moreAgree }: FocalCourse): boolean {
  if (range < LEAST_COURSE) return false;
  return moreAgree > MORE_AGREE || (chiSquare > COURSE_CHI_SQUARE && range > COURSE_DEVIATIONS * rangeSd);
}

/** Frame at which the focal length changes fastest. */
function steepestFrame({ logFocal }: FocalCourse): number {
  const change = (t: number): number => Math.abs(logFocal[t] - logFocal[t - 1]);
  let steepest = 1;
  for (let t = 2; t < logFocal.length; t++) if (change(t) > change(steepest)) steepest = t;
  return steepest;
}

interface Fast {
  /** RMS over the noise. */
  readonly overNoise: number;
  /** RMS less the noise. */
  readonly size: number;
}

/** What a column of one value per frame does faster than the cut-off; null where too many frames have no value. */
function fastPart(
  values: Float64Array,
  deviations: Float64Array,
  rateHz: number,
  cutoffHz: number,
): Fast | null {
  const trim = Math.round(SPLIT_DEFAULTS.trimS * rateHz);
  const known = Array.from(values.keys()).filter((t) => Number.isFinite(values[t]));
  if (known.length < (1 - MOST_MISSING) * values.length || known.length < 4 * trim) return null;
  const column = Float64Array.from(known, (t) => values[t]);
  const slow = fourthDifferenceSmooth(column, rateHz, cutoffHz);
  const fast = rms(column.map((value, k) => value - slow[k]).subarray(trim, column.length - trim));
  const noise = rms(Float64Array.from(known, (t) => deviations[t]));
  return { overNoise: fast / noise, size: Math.sqrt(Math.max(0, fast * fast - noise * noise)) };
}
