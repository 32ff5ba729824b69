/** The other setups that a crew asks for: half and double speed, other axles, other wheels, one lens wider and longer. */
import { figure } from '../../run/index.js';
import { otherSetupNames, otherSetupTexts } from '../../texts/index.js';
import type { PredictedFloor, PredictedWheel, SetupForPrediction } from './types.js';

/** Lenses that a crew is likely to have with it, millimetres. */
export const PREDICTED_FOCAL_LENGTHS_MM = [12, 16, 18, 24, 35, 50, 75, 100, 135, 180, 250] as const;
/** The next lens is at least this much wider or longer. */
const NEXT_LENS = 1.3;
/** Where the list ends or the focal length is not known. */
const LENS_FACTOR = 1.4;
const SPEED_FACTORS = [0.5, 2] as const;
const WHEELBASE_FACTORS = [0.67, 1.5] as const;
/** Wheelbases of this and more are named in steps of 5 cm, shorter ones in whole centimetres. */
const COARSE_FROM_M = 0.3;

/** Half-power wavenumber of a soft tyre with a patch of about 45 mm, and of a hard wheel, cycles/m. */
export const SOFT_TYRE_CYCLES_PER_M = 18;
export const HARD_WHEEL_CYCLES_PER_M = 120;
/** Below this the wheels of the pass were soft already. */
const SOFT_BELOW = 30;
/** Patches of tyres and wheels differ by this factor either way (95 %). */
const PATCH_FACTOR95 = 2;

/** The dolly, lens and speed that others are compared with. */
export interface PresentSetup {
  readonly setup: SetupForPrediction;
  /** Null where it is not known; only names depend on it. */
  readonly focalLengthMm: number | null;
  readonly wheelDiameterM: number | null;
}

/** The one thing that differs; `none` for the present setup itself. */
export type SetupChange = 'none' | 'speed' | 'wheelbase' | 'wheel' | 'lens' | 'surface';

/** One setup that differs from the present one in one thing. */
export interface ChangedSetup {
  readonly change: SetupChange;
  /** What is changed, as a crew says it. */
  readonly label: string;
  /** Null when it cannot be made from what is known, and why. */
  readonly setup: SetupForPrediction | null;
  readonly reason: string | null;
  readonly assumes: string;
}

/** The changes of speed, wheelbase, wheel and lens, in this order. */
export function changedSetups(floor: PredictedFloor, present: PresentSetup): ChangedSetup[] {
  return [...speeds(present), ...wheelbases(present), ...wheels(floor, present), ...lenses(present)];
}

const names = otherSetupNames;

function made(change: SetupChange, label: string, setup: SetupForPrediction, assumes: string): ChangedSetup {
  return { change, label, setup, reason: null, assumes };
}

function speeds({ setup }: PresentSetup): ChangedSetup[] {
  return SPEED_FACTORS.map((factor) => {
    const speedMps = factor * setup.speedMps;
    return made('speed', names.speed(figure(speedMps)), { ...setup, speedMps }, otherSetupTexts.speed);
  });
}

function wheelbases({ setup }: PresentSetup): ChangedSetup[] {
  return WHEELBASE_FACTORS.map((factor) => {
    const wheelbaseM = roundedWheelbaseM(factor * setup.wheelbaseM);
    const label = names.wheelbase(figure(1000 * wheelbaseM));
    return made('wheelbase', label, { ...setup, wheelbaseM }, otherSetupTexts.wheelbase);
  });
}

function roundedWheelbaseM(wheelbaseM: number): number {
  const perM = wheelbaseM >= COARSE_FROM_M ? 20 : 100;
  return Math.max(1, Math.round(wheelbaseM * perM)) / perM;
}

function wheels(floor: PredictedFloor, { setup, wheelDiameterM }: PresentSetup): ChangedSetup[] {
  const on = (wheel: PredictedWheel): SetupForPrediction => ({ ...setup, wheel });
  const twice =
    wheelDiameterM === null ? names.wheelsTwiceAsLarge : names.wheels(figure(2000 * wheelDiameterM));
  const large = on({
    ...setup.wheel,
    diameterFactor: 2 * setup.wheel.diameterFactor,
    contactFactor95: PATCH_FACTOR95,
  });
  const soft = floor.contactCyclesPerM < SOFT_BELOW;
  const otherTyre = on({
    ...setup.wheel,
    contactCyclesPerM: soft ? HARD_WHEEL_CYCLES_PER_M : SOFT_TYRE_CYCLES_PER_M,
    contactFactor95: PATCH_FACTOR95,
  });
  return [
    made('wheel', twice, large, otherSetupTexts.largeWheels),
    soft
      ? made('wheel', names.hardWheels, otherTyre, otherSetupTexts.hardWheels)
      : made('wheel', names.softTyres, otherTyre, otherSetupTexts.softTyres),
  ];
}

function lenses({ setup, focalLengthMm }: PresentSetup): ChangedSetup[] {
  const assumes = otherSetupTexts.lens;
  const { view } = setup;
  const factors = [nextLens(focalLengthMm, 'wider'), nextLens(focalLengthMm, 'longer')];
  return factors.map((factor): ChangedSetup => {
    const label =
      focalLengthMm === null ? names.lensFactor(figure(factor)) : names.lens(figure(factor * focalLengthMm));
    if (view !== null)
      return made('lens', label, { ...setup, view: { ...view, focalPx: factor * view.focalPx } }, assumes);
    const reason = otherSetupTexts.giveLens;
    return { change: 'lens', label, setup: null, reason, assumes };
  });
}

/** Focal length of the next lens over the present one. */
function nextLens(focalLengthMm: number | null, way: 'wider' | 'longer'): number {
  const usual = way === 'longer' ? LENS_FACTOR : 1 / LENS_FACTOR;
  if (focalLengthMm === null) return usual;
  const next =
    way === 'longer'
      ? PREDICTED_FOCAL_LENGTHS_MM.find((mm) => mm >= NEXT_LENS * focalLengthMm)
      : PREDICTED_FOCAL_LENGTHS_MM.findLast((mm) => NEXT_LENS * mm <= focalLengthMm);
  return next === undefined ? usual : next / focalLengthMm;
}
