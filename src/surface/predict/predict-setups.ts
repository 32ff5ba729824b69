/**
 * A small table of what other setups would shake on this floor, and this setup on other surfaces: RMS in radians and px with 95 %
 * ranges, each beside the present setup.
 */
import { figure } from '../../run/index.js';
import { otherSetupNames, otherSetupTexts } from '../../texts/index.js';
import { changedSetups, type ChangedSetup, type PresentSetup, type SetupChange } from './changed-setups.js';
import { predictShake } from './predict-shake.js';
import type {
  MeasuredShake,
  PredictedFloor,
  PredictedRms,
  Ranged,
  SetupForPrediction,
  ShakePrediction,
} from './types.js';

/** Boards, rail or another floor with its own measured run. */
export interface OtherFloor {
  readonly name: string;
  /** Null when its run found no level. */
  readonly floor: PredictedFloor | null;
}

/** What else the table is made from. */
export interface MoreToPredict {
  readonly surfaces?: readonly OtherFloor[] | undefined;
}

/** Where the shift of the picture is read: at its corners, in its middle when roll is not known; without a view pitch stands for it. */
export type ShakePlace = 'corner' | 'centre' | 'pitch';

/** One line of the table. */
export interface SetupRow {
  readonly change: SetupChange;
  readonly label: string;
  readonly setup: SetupForPrediction | null;
  readonly pitchRad: Ranged | null;
  readonly rollRad: Ranged | null;
  /** RMS shift of the delivered picture at the place of the table; null without a view. */
  readonly shakePx: Ranged | null;
  /** Shake over that of the present setup. */
  readonly ratio: Ranged | null;
  readonly largestKickPx: number | null;
  /** Share of the power that comes from waves the pass did not show. */
  readonly unseenShare: number | null;
  readonly assumes: string;
  /** Why the shake is missing; null otherwise. */
  readonly reason: string | null;
}

/** The table; its first line is the present setup. */
export interface SetupTable {
  readonly shakeAt: ShakePlace;
  readonly rows: readonly SetupRow[];
}

/** Unseen shares below this are not worth a word. */
const LITTLE_UNSEEN = 0.1;
/** Wheels of other runs are not those of this dolly: their contact is off by this factor (95 %). */
const OTHER_RUN_CONTACT95 = 2;

/**
 * Predicts the usual changes.
 *
 * @param floor the floor as this pass found it; best with `measured` of the present setup
 */
export function predictSetups(
  floor: PredictedFloor,
  present: PresentSetup,
  more: MoreToPredict = {},
): SetupTable {
  const now = predictShake(floor, present.setup);
  const shakeAt = placeOf(now);
  const nowShake = shakeOf(now, shakeAt);
  // Ratios need no level: what both setups owe to the same floor cancels.
  const related = { ...floor, measured: asModelled(now, present.setup) };
  const here: ChangedSetup = {
    change: 'none',
    label: otherSetupNames.thisPass,
    setup: present.setup,
    reason: null,
    assumes: floor.measured === null ? otherSetupTexts.fromTheFit : otherSetupTexts.asMeasured,
  };
  const own = [here, ...changedSetups(floor, present)].map((one): SetupRow => {
    if (one.setup === null) return emptyRow(one, one.reason);
    const prediction = one.change === 'none' ? now : predictShake(floor, one.setup);
    const relative = floor.measured === null ? predictShake(related, one.setup) : prediction;
    return rowOf(one, prediction, shakeAt, overNow(shakeOf(relative, shakeAt), nowShake, true));
  });
  const others = (more.surfaces ?? []).map((other): SetupRow => {
    const one = onSurface(other.name, floor, present.setup);
    if (other.floor === null) return emptyRow(one, otherSetupTexts.boundAlone);
    const prediction = predictShake(other.floor, one.setup);
    return rowOf(one, prediction, shakeAt, overNow(shakeOf(prediction, shakeAt), nowShake, false));
  });
  return { shakeAt, rows: [...own, ...others] };
}

function onSurface(
  name: string,
  floor: PredictedFloor,
  setup: SetupForPrediction,
): ChangedSetup & { readonly setup: SetupForPrediction } {
  const contactCyclesPerM = setup.wheel.contactCyclesPerM ?? floor.contactCyclesPerM;
  return {
    change: 'surface',
    label: name,
    setup: {
      ...setup,
      wheel: { ...setup.wheel, contactCyclesPerM, contactFactor95: OTHER_RUN_CONTACT95 },
    },
    reason: null,
    assumes: otherSetupTexts.surface,
  };
}

function placeOf({ cornerPx, centrePx }: ShakePrediction): ShakePlace {
  if (cornerPx !== null) return 'corner';
  return centrePx === null ? 'pitch' : 'centre';
}

function shakeOf(prediction: ShakePrediction, place: ShakePlace): PredictedRms | null {
  if (place === 'corner') return prediction.cornerPx;
  return place === 'centre' ? prediction.centrePx : prediction.pitchRad;
}

/** The model's own figures in the place of measured ones. */
function asModelled(now: ShakePrediction, setup: SetupForPrediction): MeasuredShake {
  return {
    setup,
    pitchRadRms: now.pitchRad?.value ?? null,
    rollRadRms: now.rollRad?.value ?? null,
    heaveMRms: now.heaveM?.value ?? null,
    sdLn: 0,
  };
}

/** @param shared whether both stand on the same floor, so that the range of the present value is in that of the other already */
function overNow(shake: Ranged | null, now: Ranged | null, shared: boolean): Ranged | null {
  if (shake === null || now === null || now.value === 0) return null;
  const value = shake.value / now.value;
  const down = Math.log(shake.value / shake.low);
  const up = Math.log(shake.high / shake.value);
  const nowDown = shared ? 0 : Math.log(now.value / now.low);
  const nowUp = shared ? 0 : Math.log(now.high / now.value);
  return {
    value,
    low: value * Math.exp(-Math.hypot(down, nowUp)),
    high: value * Math.exp(Math.hypot(up, nowDown)),
  };
}

function rowOf(
  one: ChangedSetup,
  prediction: ShakePrediction,
  place: ShakePlace,
  ratio: Ranged | null,
): SetupRow {
  const shake = shakeOf(prediction, place);
  const unseenShare = shake?.unseenShare ?? null;
  return {
    change: one.change,
    label: one.label,
    setup: one.setup,
    pitchRad: plain(prediction.pitchRad),
    rollRad: plain(prediction.rollRad),
    shakePx: place === 'pitch' ? null : plain(shake),
    ratio,
    largestKickPx: prediction.largestKickPx,
    unseenShare,
    assumes: one.assumes + unseenWords(one.change, unseenShare),
    reason: shake !== null || prediction.refused === null ? null : otherSetupTexts[prediction.refused],
  };
}

function unseenWords(change: SetupChange, share: number | null): string {
  if (change === 'none' || share === null || share < LITTLE_UNSEEN) return '';
  return ` ${otherSetupTexts.unseen(figure(Math.round(100 * share)), change === 'surface' ? 'its' : 'this')}`;
}

function emptyRow({ change, label, setup, assumes }: ChangedSetup, reason: string | null): SetupRow {
  return {
    change,
    label,
    setup,
    pitchRad: null,
    rollRad: null,
    shakePx: null,
    ratio: null,
    largestKickPx: null,
    unseenShare: null,
    assumes,
    reason,
  };
}

function plain(rms: PredictedRms | null): Ranged | null {
  return rms === null ? null : { value: rms.value, low: rms.low, high: rms.high };
}
