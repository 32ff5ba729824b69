/**
 * Crop and residue of the same floor at another speed: from the measured path (radians, translation unit, seconds) played
 * faster or slower.
 *
 * A bump of the floor keeps its height and meets the wheels sooner: a shake at f turns into one at f v2 / v of the same
 * amplitude. A motor or a loose mount shakes at its own frequency whatever the speed. One clip cannot tell which part
 * is which, so both extremes are given. Own derivation.
 */
import type { Camera } from '../../optics/index.js';
import { otherConditionsTexts } from '../../texts/index.js';
import type { Motion } from '../../motion/index.js';
import { exactCrop } from '../crop/exact-crop.js';
import { motionAtSpeed } from './motion-at-speed.js';
import type { Corrections } from '../types.js';
import { lastsFor, resolves, smoothingOf, vibrationAt } from '../path/vibration-at.js';

/** Speeds that are foretold, as factors of the speed of the test pass. */
export const SPEED_FACTORS = [0.5, 0.75, 1, 1.5, 2] as const;

/** How a clip is corrected and judged; given the motion of the clip at some speed. */
export interface SpeedMethod {
  readonly corrections: (motion: Motion) => Corrections;
  /** Delivery px RMS left at a zoom; null when not known. */
  readonly residualPx?: (motion: Motion, corrections: Corrections, zoom: number) => number | null;
}

/** What the prediction for another speed is made from. */
export interface SpeedWhatIf {
  readonly motion: Motion;
  /** Camera of the analysis frames. */
  readonly camera: Camera;
  /** Height per width of the delivery. */
  readonly shape: number;
  /** One over the cut-off in Hz, the same at every speed, seconds; that at which the motion was split unless given. */
  readonly smoothingS?: number;
  /** Keep the move and take out the angular vibration, residue unknown, unless given. */
  readonly method?: SpeedMethod;
  /** Speed of the test pass; null when it is not known. */
  readonly speedMps: number | null;
}

/** What one extreme costs and leaves. */
export interface SpeedExtreme {
  readonly cropPercent: number;
  readonly zoom: number;
  readonly coverable: boolean;
  /** Delivery px RMS; null when unknown. */
  readonly residualPx: number | null;
}

/**
 * Why there is no figure. tooShort: fewer than three periods of the cut-off fit; tooSlow: the slowed samples hold little or nothing
 * above the cut-off.
 */
export type SpeedRefusal = 'tooShort' | 'tooSlow';

/** The same move at another speed. */
export interface SpeedRow {
  readonly speedFactor: number;
  /** Null when the speed of the test pass is not known. */
  readonly speedMps: number | null;
  /** How long the same stretch then takes, seconds. */
  readonly durationS: number;
  /** All of the shake comes from the floor; null when refused. */
  readonly allFloor: SpeedExtreme | null;
  /** All of it comes from the machine; null when refused. */
  readonly allMachine: SpeedExtreme | null;
  readonly refused: SpeedRefusal | null;
  /** Above this frequency the test pass could not see what this speed would bring into the band, Hz; null when it could. */
  readonly unseenAboveHz: number | null;
  readonly assumes: string;
}

/**
 * Crop and residue of the same stretch of floor at `speedFactor` times the speed, at the same cut-off in Hz.
 *
 * @returns at 1 both extremes equal the plan of the clip exactly
 * @throws RangeError unless speedFactor is positive and finite
 */
export function cropAtSpeed(input: SpeedWhatIf, speedFactor: number): SpeedRow {
  return speedRow(input, speedFactor, extreme(input, input.motion));
}

/** `cropAtSpeed` over the usual factors. */
export function speedTable(input: SpeedWhatIf): SpeedRow[] {
  const asFilmed = extreme(input, input.motion);
  return SPEED_FACTORS.map((factor) => speedRow(input, factor, asFilmed));
}

function speedRow(input: SpeedWhatIf, speedFactor: number, asFilmed: SpeedExtreme): SpeedRow {
  const { motion, speedMps } = input;
  if (!(speedFactor > 0 && Number.isFinite(speedFactor)))
    throw new RangeError(`speedFactor must be a positive number, got ${speedFactor}`);
  const durationS = motion.timeS.length / motion.rateHz / speedFactor;
  const refused = speedFactor === 1 ? null : speedRefusal(motion, speedFactor, smoothingIn(input));
  const nyquistHz = motion.rateHz / 2;
  return {
    speedFactor,
    speedMps: speedMps === null ? null : speedMps * speedFactor,
    durationS,
    allFloor: refused
      ? null
      : speedFactor === 1
        ? asFilmed
        : extreme(input, motionAtSpeed(motion, speedFactor)),
    allMachine: refused ? null : asFilmed,
    refused,
    unseenAboveHz: speedFactor < 1 ? nyquistHz * speedFactor : null,
    assumes: assumptions(speedFactor, nyquistHz),
  };
}

/**
 * Why nothing can be said of a motion at `speedFactor` times its speed: both the smoothing and the band in which shake is judged must
 * fit the clip at that speed.
 *
 * @param smoothingS that at which the motion was split unless given
 */
export function speedRefusal(
  motion: Motion,
  speedFactor: number,
  smoothingS = smoothingOf(motion),
): SpeedRefusal | null {
  const smoothings = [smoothingS, smoothingOf(motion)];
  const durationS = motion.timeS.length / motion.rateHz / speedFactor;
  if (!lastsFor(Math.max(...smoothings), durationS)) return 'tooShort';
  return resolves(Math.min(...smoothings), motion.rateHz * speedFactor) ? null : 'tooSlow';
}

function smoothingIn({ smoothingS, motion }: SpeedWhatIf): number {
  return smoothingS ?? smoothingOf(motion);
}

function extreme(input: SpeedWhatIf, motion: Motion): SpeedExtreme {
  const method = input.method ?? keepTheMove(smoothingIn(input));
  const corrections = method.corrections(motion);
  const { zoom, cropPercent, coverable } = exactCrop(corrections, input.camera, input.shape);
  return {
    cropPercent,
    zoom,
    coverable,
    residualPx: method.residualPx?.(motion, corrections, zoom) ?? null,
  };
}

function keepTheMove(smoothingS: number): SpeedMethod {
  return { corrections: (motion) => ({ vibration: vibrationAt(motion, smoothingS).series, rows: null }) };
}

function assumptions(speedFactor: number, nyquistHz: number): string {
  if (speedFactor === 1) return otherConditionsTexts.sameSpeed;
  const { otherSpeed, ripplesMissing, smearsAbove } = otherConditionsTexts;
  // Nine digits first: what misses half a unit by the rounding of time stamps alone is half a unit.
  const hz = (value: number): number => Number(Number(value.toPrecision(9)).toPrecision(2));
  const reach = speedFactor < 1 ? ripplesMissing(hz(nyquistHz * speedFactor)) : smearsAbove(hz(nyquistHz));
  return otherSpeed(reach, Number((1 / speedFactor).toPrecision(3)), speedFactor > 1 ? 'more' : 'less');
}
