/**
 * What the head between deck and camera lets through: which of the lens's turns are the deck's, whether its height counts, and what to
 * change where they are not; angles in radians, lengths in metres.
 */
import type { Motion } from '../../motion/index.js';
import type { Rig, Warning } from '../../run/index.js';
import { floorRefusalTexts, floorWarningTexts } from '../../texts/index.js';
import type { Mounting } from './deck-series.js';
import { agrees, carriedHeight } from './consistency.js';
import { hasMetricTranslation, lensPath, type LensDirection, type LensPath } from './lens-path.js';
import { shakeOf, type Shake } from './shake.js';
import type { Travel } from './travel.js';

/** The mounting without what the rig says of it, or the sentence that says what is missing. */
export interface HeadReading {
  readonly mounting: Omit<Mounting, 'offsetM'>;
  readonly refusal: string | null;
  readonly warnings: Warning[];
}

const RAD_PER_DEG = Math.PI / 180;
const QUARTER_TURN = Math.PI / 2;
/**
 * On an operated head the lens must look along the travel or square to it within this: sin^2 of it, 7 %, is what the other deck angle
 * adds to the power of roll, a third of what is not known of the tracks anyway.
 */
const OPERATED_TOLERANCE_RAD = 15 * RAD_PER_DEG;
/** Height of which the operator's tilt explains more than this share is no measure of the floor; chance explains about 1 %. */
const SWUNG_SHARE = 0.08;
/** A head that levels turns the lens by less than this share of what the deck turns. */
const LEVELLED_SHARE = 0.5;
/** The way must be so many times its noise to say so: noise that is half as large again as stated looks like 1.1 times. */
const CLEAR_OF_NOISE = 2;
/** Rows that are read out slower than this, and not corrected, shift height with every hit. */
const LONGEST_READOUT_S = 0.005;

/**
 * Reads the head.
 *
 * @param azimuthKnown whether the lens azimuth was given or seen in the clip
 */
export function readHead(
  motion: Motion,
  rig: Rig,
  travel: Travel,
  direction: LensDirection,
  azimuthKnown: boolean,
): HeadReading {
  const open = { levellingHeightM: null, pitchShows: true, rollShows: true, heaveShows: true };
  const rigid = { ...direction, ...open };
  const refused = (refusal: string): HeadReading => ({ mounting: rigid, refusal, warnings: [] });
  if (rig.head === 'selfLevelling') {
    const refusal = levellingRefusal(motion, rig);
    return refusal === null ? levelling(rigid, rig.cameraHeightM!) : refused(refusal);
  }
  const tiltShows = rig.head !== 'operated' && motion.axes.tilt.status !== 'notObservable';
  const rollShows = motion.axes.roll.status !== 'notObservable';
  if (tiltShows && rollShows) return rigidHead(motion, rig, travel, rigid);
  return oneAngle(motion, travel, rigid, azimuthKnown, rollShows, rig.head === 'operated');
}

function levellingRefusal(motion: Motion, rig: Rig): string | null {
  if (rig.cameraHeightM === undefined) return floorRefusalTexts.giveCameraHeight;
  if (!hasMetricTranslation(motion)) return floorRefusalTexts.lockTheHead;
  return null;
}

function levelling(rigid: HeadReading['mounting'], heightM: number, warnings: Warning[] = []): HeadReading {
  return { mounting: { ...rigid, levellingHeightM: heightM }, refusal: null, warnings };
}

/** A head that is locked, or of which nothing was said: checked against the way that the lens is carried at its height. */
function rigidHead(motion: Motion, rig: Rig, travel: Travel, rigid: HeadReading['mounting']): HeadReading {
  const warnings: Warning[] = [];
  const lens = lensPath(motion, rigid, travel);
  const heightM = rig.cameraHeightM;
  let heaveShows = true;
  if (lens.way !== null && heightM !== undefined && motion.axes.axial.status !== 'notObservable') {
    const shake = shakes(lens, motion);
    if (rig.head === undefined && levelsItself(shake, heightM)) {
      warnings.push({
        code: 'head-levels-itself',
        text: floorWarningTexts.headLevelsItself(heightM.toFixed(2)),
        atS: null,
      });
      return levelling(rigid, heightM, warnings);
    }
    const carried = carriedHeight(shake.forward, shake.pitch);
    if (carried !== null && !agrees(carried, heightM)) {
      heaveShows = false;
      warnings.push({
        code: 'deck-not-rigid',
        text: floorWarningTexts.deckNotRigid(carried.heightM.toFixed(2), heightM.toFixed(2)),
        atS: null,
      });
    }
  }
  if (lens.way !== null && readoutSpoils(motion)) {
    heaveShows = false;
    warnings.push({
      code: 'rows-spoil-heave',
      text: floorWarningTexts.rowsSpoilHeight,
      atS: null,
    });
  }
  return { mounting: { ...rigid, heaveShows }, refusal: null, warnings };
}

interface LensShakes {
  readonly pitch: Shake;
  readonly roll: Shake;
  readonly forward: Shake;
  readonly lateral: Shake;
}

function shakes({ pitchRad, rollRad, way }: LensPath, { rateHz, bandHz }: Motion): LensShakes {
  return {
    pitch: shakeOf(pitchRad, rateHz, bandHz[0]),
    roll: shakeOf(rollRad, rateHz, bandHz[0]),
    forward: shakeOf(way!.forwardM, rateHz, bandHz[0]),
    lateral: shakeOf(way!.lateralM, rateHz, bandHz[0]),
  };
}

/**
 * Whether lens and deck part company on both angles: a pace that jerks makes as much way ahead as pitch does, but none to the side.
 */
function levelsItself({ pitch, roll, forward, lateral }: LensShakes, heightM: number): boolean {
  const parts = (way: Shake, turn: Shake): boolean =>
    way.rms > CLEAR_OF_NOISE * way.noise && turn.rms < (LEVELLED_SHARE * way.rms) / heightM;
  return parts(forward, pitch) && parts(lateral, roll);
}

function readoutSpoils({ readout }: Motion): boolean {
  const longestS = readout.readoutS ?? readout.ci95S?.[1] ?? Infinity;
  return readout.state === 'notMeasurable' && longestS > LONGEST_READOUT_S;
}

/** Only one of the lens's angles is the deck's: roll on an operated head, or whichever the clip shows. */
function oneAngle(
  motion: Motion,
  travel: Travel,
  rigid: HeadReading['mounting'],
  azimuthKnown: boolean,
  rollShows: boolean,
  operated: boolean,
): HeadReading {
  const refused = (refusal: string): HeadReading => ({ mounting: rigid, refusal, warnings: [] });
  if (!azimuthKnown) return refused(floorRefusalTexts.giveAzimuth);
  const quarter = Math.round(rigid.azimuthRad / QUARTER_TURN);
  const square = quarter * QUARTER_TURN;
  const offRad = Math.abs(rigid.azimuthRad - square) + (operated ? panReach(motion, travel) : 0);
  if (offRad > OPERATED_TOLERANCE_RAD)
    return refused(floorRefusalTexts.oneAngle((offRad / RAD_PER_DEG).toFixed(0), operated));
  const sideways = Math.abs(quarter) % 2 === 1;
  const pitchShows = sideways === rollShows;
  const mounting = { ...rigid, azimuthRad: square, pitchShows, rollShows: !pitchShows };
  const heaveShows = pitchShows && !readoutSpoils(motion) && !(operated && swung(motion, travel, mounting));
  return { mounting: { ...mounting, heaveShows }, refusal: null, warnings: [] };
}

/** How far the operator pans off the middle in the pass. */
function panReach({ intended }: Motion, { fromFrame, toFrame }: Travel): number {
  const pan = intended.pan.slice(fromFrame, toFrame);
  return (pan.reduce((a, b) => Math.max(a, b)) - pan.reduce((a, b) => Math.min(a, b))) / 2;
}

/** Whether the operator's tilt swings the lens up and down: a lens in front of the tilt axis goes with it. */
function swung(motion: Motion, travel: Travel, direction: LensDirection): boolean {
  const { rollRad: tilt, way } = lensPath(motion, direction, travel);
  if (way === null) return false;
  const { rateHz, bandHz } = motion;
  const up = shakeOf(way.verticalM, rateHz, bandHz[0]).values;
  const turn = shakeOf(tilt, rateHz, bandHz[0]).values;
  const product = (a: Float64Array, b: Float64Array): number =>
    a.reduce((sum, value, i) => sum + value * b[i], 0);
  return product(up, turn) ** 2 > SWUNG_SHARE * product(up, up) * product(turn, turn);
}
