/**
 * What one piece of a clip shows that speaks for doubt of its figures: a lens that changes, a picture that slides under it, tracks with
 * a motion of their own, rows that tell another readout. Each threshold lies well above what honest passes show (own trials), since
 * a false alarm costs more trust than a silence.
 */
import { fourthDifferenceSmooth, rms } from '../../numerics/index.js';
import { LOWEST_SIGMA_SHARE } from '../adjust.js';
import type { Observations } from '../observations.js';
import { SPLIT_DEFAULTS } from '../options.js';
import type { ClipScale, SolvedPiece } from '../piece.js';
import { poseSeries, vibrationOf } from '../series.js';
import { focalCourse, type FocalCourse } from './focal-course.js';
import { lensMoves } from './lens-moves.js';
import type { ReadoutAgainst } from './readout-against.js';
import { secondMotion } from './second-motion.js';

/** A sign of doubt in a piece; of those of a kind the largest is told. */
export type DoubtSign =
  | {
      /**
       * slide: the picture under the lens, RMS, rad; focal: slow change of the focal length, as a share of it; hunting: fast one, RMS;
       * subject: share of the tracks that share a motion of their own.
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
/** A fast change of the scale: over its noise, and at all. */
const FAST_OVER_NOISE = 2.5;
const LEAST_FAST = 2e-4;
/** A slide of the picture under the lens: over its noise, and over what the picture still turns. */
const SLIDE_OVER_NOISE = 1.8;
const SLIDE_OVER_TURN = 0.7;
/** Share of the tracks from which something that moves by itself is told. */
const MUCH_BY_ITSELF = 0.25;
/** Frames without a value above this share leave a series aside. */
const MOST_MISSING = 0.1;

/** Looks for the signs of a solved piece, which is not changed. */
export function pieceSigns(
  piece: SolvedPiece,
  clip: ClipScale,
  sigmaStart: number,
  cutoffHz: number,
): DoubtSign[] {
  const { observations, scene, mode, readout, readoutAgainst } = piece;
  const signs: DoubtSign[] = [];
  if (readoutAgainst) signs.push({ kind: 'readout', ...readoutAgainst });
  signs.push(...subjectSign(observations, piece, clip));

  const moves = lensMoves(observations, scene, mode === 'rotationOnly', LOWEST_SIGMA_SHARE * sigmaStart);
  const fast = (values: Float64Array, deviations: Float64Array): Fast | null =>
    fastPart(values, deviations, clip.rateHz, cutoffHz);
  const course = focalCourse(observations, scene, sigmaStart);
  const scale = fast(moves.scale, moves.scaleSd);
  if (isTold(course)) {
    signs.push({ kind: 'focal', size: course.range, atS: clip.timeS[steepestFrame(course)] });
  } else if (scale && scale.overNoise > FAST_OVER_NOISE && scale.size > LEAST_FAST) {
    signs.push({ kind: 'hunting', size: scale.size, atS: null });
  }

  // Rows that nobody freed of their readout bend the picture much as a slide does.
  if (readoutAgainst || readout.state === 'notMeasurable') return signs;
  const { pan, tilt } = vibrationOf(
    poseSeries(scene.rotations, scene.centres),
    clip.rateHz,
    cutoffHz,
  ).vibration;
  const slides = [
    { slide: fast(moves.slideX, moves.slideXSd), turnRad: rms(pan) },
    { slide: fast(moves.slideY, moves.slideYSd), turnRad: rms(tilt) },
  ];
  for (const { slide, turnRad } of slides) {
    if (slide && slide.overNoise > SLIDE_OVER_NOISE && slide.size > SLIDE_OVER_TURN * turnRad)
      signs.push({ kind: 'slide', size: slide.size, atS: null });
  }
  return signs;
}

function subjectSign(obs: Observations, { scene }: SolvedPiece, clip: ClipScale): DoubtSign[] {
  const second = secondMotion(obs, scene, clip);
  if (!second || second.share < MUCH_BY_ITSELF) return [];
  return [{ kind: 'subject', size: second.share, atS: clip.timeS[second.first] }];
}

function isTold({ chiSquare, range, rangeSd }: FocalCourse): boolean {
  return chiSquare > COURSE_CHI_SQUARE && range > LEAST_COURSE && range > COURSE_DEVIATIONS * rangeSd;
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
