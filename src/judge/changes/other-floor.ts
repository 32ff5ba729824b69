/**
 * The motion of a pass on other axles or wheels, or over another surface: the deck's own vibration grows by the ratio that the model
 * of floor and dolly foretells for its RMS.
 *
 * Each of pitch, roll and heave keeps its course in time. What machines shake at frequencies of their own stays as it is.
 *
 * The other way, taking the mean profile out of pitch and heave (least squares over wavenumbers) and rolling the other dolly over it,
 * was tried on 64 made-up floors, axles 0.3 to 1 m apart and soft tyres, with and without joints: crops scattered as much (sd of ln 0.05
 * to 0.19 against 0.04 to 0.17), tilt came out 7 to 22 % and height 2 to 21 % too large, where this way is within 8 and 10 %. Clips are
 * a few axle spacings long, and half of a spacing at each end tells of the profile by one axle alone.
 */
import type { Motion } from '../../motion/index.js';
import type { Ranged, StoredFloor } from '../../run/index.js';
import { otherFloorTexts } from '../../texts/index.js';
import {
  floorFromSurface,
  predictShake,
  HARD_WHEEL_CYCLES_PER_M,
  SOFT_TYRE_CYCLES_PER_M,
  type PredictedFloor,
  type PredictedWheel,
  type SetupForPrediction,
  type ShakePrediction,
} from '../../surface/index.js';
import type { MeasuredPass } from '../pass/measured-pass.js';
import { jointFactor } from '../relative-range.js';
import { cameraVibration, carriedLens, deckVibration, type DeckVibration } from './deck-shares.js';
import { withoutMachines } from './silenced.js';
import { NOTHING_ELSE, unchanged, type ChangedMotion, type PassChange, type RefusedChange } from './types.js';
import { withVibration } from './with-vibration.js';

/** Changes that go through the floor's model. */
export type FloorChange = Extract<
  PassChange,
  { what: 'wheelbase' | 'wheel' | 'smoothSurface' | 'measuredSurface' }
>;

/** Tyres and wheels that nobody measured: their patches differ by this factor either way (95 %). */
const PATCH_FACTOR95 = 2;
/**
 * The same RMS costs more or less crop as its largest frames come out, as a factor either way (95 %): at the right RMS, crops of 14
 * made-up floors scattered by 7 to 14 % (sd of ln).
 */
const COURSE_FACTOR95 = 1.22;
/** A channel that is foretold to shake this much less or more is foretold by a guess: the ratio stops there. */
const LEAST_RATIO = 1e-3;
const MOST_RATIO = 100;

/** The motion after a change of axles, wheels or surface. */
export function onOtherFloor(pass: MeasuredPass, change: FloorChange): ChangedMotion | RefusedChange {
  const { floor } = pass;
  if (floor === null) return { refused: pass.sections.surface.reason ?? otherFloorTexts.notGraded };
  if (change.what === 'wheelbase' && change.wheelbaseM === floor.present.setup.wheelbaseM)
    return unchanged(pass.motion);
  const asked = question(pass, floor, change);
  if ('refused' in asked) return asked;
  const foretold = predictShake(asked.floor, asked.setup);
  const { pitchRad, rollRad } = foretold;
  if (pitchRad === null && rollRad === null)
    return {
      refused:
        foretold.refused === 'runTooShort' ? otherFloorTexts.runTooShort : otherFloorTexts.wavesNotSeen,
    };
  return scaledDeck(pass, floor, foretold, asked.assumes);
}

interface Question {
  readonly floor: PredictedFloor;
  readonly setup: SetupForPrediction;
  readonly assumes: readonly string[];
}

function question(pass: MeasuredPass, stored: StoredFloor, change: FloorChange): Question | RefusedChange {
  const { setup, wheelDiameterM } = stored.present;
  const { surface } = pass.sections;
  const known = floorFromSurface(surface, { runLengthM: stored.runLengthM, measured: stored.measured });
  if (known === null) return { refused: otherFloorTexts.boundAlone };
  switch (change.what) {
    case 'wheelbase':
      return {
        floor: known,
        setup: { ...setup, wheelbaseM: change.wheelbaseM },
        assumes: [otherFloorTexts.deckRigid],
      };
    case 'wheel': {
      const wheel = otherWheel(setup.wheel, known, wheelDiameterM, change);
      return 'refused' in wheel
        ? wheel
        : {
            floor: known,
            setup: { ...setup, wheel },
            assumes: [otherFloorTexts.wheelsDoNotBounce],
          };
    }
    case 'smoothSurface': {
      const track = surface.psdAt01CyclesPerM;
      if (track === null || !(track > 0)) return { refused: otherFloorTexts.noRoughness };
      const factor = change.psdM3 / track;
      const scaled = (level: number | null): number | null => level && level * factor;
      return {
        floor: {
          ...known,
          meanTrackM3: scaled(known.meanTrackM3),
          differenceM3: scaled(known.differenceM3),
          events: [],
          measured: null,
        },
        setup,
        assumes: [otherFloorTexts.boardsLieFirm],
      };
    }
    case 'measuredSurface': {
      const floor = floorFromSurface(change.surface);
      if (floor === null)
        return {
          refused: otherFloorTexts.runOfBoundAlone(change.name),
        };
      const wheel = {
        ...setup.wheel,
        contactCyclesPerM: setup.wheel.contactCyclesPerM ?? known.contactCyclesPerM,
        contactFactor95: PATCH_FACTOR95,
      };
      return {
        floor,
        setup: { ...setup, wheel },
        assumes: [otherFloorTexts.liesAsItLay],
      };
    }
  }
}

function otherWheel(
  present: PredictedWheel,
  floor: PredictedFloor,
  nowM: number | null,
  { diameterM, tyre }: Extract<PassChange, { what: 'wheel' }>,
): PredictedWheel | RefusedChange {
  if (diameterM !== undefined && nowM === null)
    return {
      refused: otherFloorTexts.noWheelDiameter,
    };
  const diameterFactor =
    diameterM === undefined || nowM === null
      ? present.diameterFactor
      : (present.diameterFactor * diameterM) / nowM;
  const contactCyclesPerM =
    tyre === undefined
      ? present.contactCyclesPerM
      : tyre === 'soft'
        ? Math.min(SOFT_TYRE_CYCLES_PER_M, floor.contactCyclesPerM)
        : Math.max(HARD_WHEEL_CYCLES_PER_M, floor.contactCyclesPerM);
  return { diameterFactor, contactCyclesPerM, contactFactor95: PATCH_FACTOR95 };
}

function scaledDeck(
  pass: MeasuredPass,
  floor: StoredFloor,
  foretold: ShakePrediction,
  assumes: readonly string[],
): ChangedMotion {
  const lens = carriedLens(pass, floor.mounting);
  const rolling = withoutMachines(pass);
  const deck = deckVibration(rolling, lens);
  const { pitchRadRms, rollRadRms, heaveMRms } = floor.measured;
  const at = (end: keyof Ranged): Motion => {
    const ratio = (there: Ranged | null, now: number | null): number =>
      there === null || now === null || !(now > 0)
        ? 1
        : Math.min(MOST_RATIO, Math.max(LEAST_RATIO, endOf(there, end) / now));
    const pitch = ratio(foretold.pitchRad, pitchRadRms);
    const grown: DeckVibration = {
      pitchRad: times(deck.pitchRad, pitch - 1),
      rollRad: times(deck.rollRad, ratio(foretold.rollRad, rollRadRms) - 1),
      // Both follow the mean of the wheel lines: where heave was not measured it is taken to go with pitch.
      heaveM:
        deck.heaveM &&
        times(
          deck.heaveM,
          (foretold.heaveM === null || heaveMRms === null ? pitch : ratio(foretold.heaveM, heaveMRms)) - 1,
        ),
    };
    return withVibration(pass.motion, cameraVibration(pass.motion, lens, grown));
  };
  return { expected: at('value'), least: at('low'), most: at('high'), ...NOTHING_ELSE, assumes };
}

/** The end of the range, widened by what another course in time does to the largest frames. */
function endOf({ value, low, high }: Ranged, end: keyof Ranged): number {
  if (end === 'low') return value / jointFactor(value / low, COURSE_FACTOR95);
  return end === 'high' ? value * jointFactor(high / value, COURSE_FACTOR95) : value;
}

function times(series: Float64Array, factor: number): Float64Array {
  return series.map((value) => factor * value);
}
