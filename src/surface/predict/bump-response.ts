/**
 * What listed joints, bumps and dips did to the deck of a pass, frame by frame: pitch and roll in radians, heave in metres, nothing
 * high-passed. The rigid deck over their shapes, with each axle where it was in each frame.
 */
import { laidLines } from './laid-heights.js';
import type { PredictedEvent } from './types.js';

/** How the dolly rolled; places in metres along the run. */
export interface RolledStretch {
  /** Place of the rear axle in each frame; rises. */
  readonly rearM: Readonly<Float64Array>;
  /** From the rear to the front axle, as the clip shows it. */
  readonly frontAheadM: number;
  readonly wheelbaseM: number;
  readonly trackWidthM: number | null;
  /** Diameter of the wheels over that of the wheels that showed the events. */
  readonly diameterFactor: number;
  /** Half-power wavenumber of the contact. */
  readonly contactCyclesPerM: number;
  /** Way within an exposure. */
  readonly blurM: number;
}

/** Series of the length of rearM; roll is null without a track width or where no event shows its sides. */
export interface BumpResponse {
  readonly pitchRad: Float64Array;
  readonly rollRad: Float64Array | null;
  readonly heaveM: Float64Array;
}

/** The deck's response to the events. */
export function bumpResponse(events: readonly PredictedEvent[], rolled: RolledStretch): BumpResponse {
  const { rearM, frontAheadM, wheelbaseM, trackWidthM, diameterFactor, contactCyclesPerM, blurM } = rolled;
  const meeting = {
    fromM: rearM[0] ?? 0,
    toM: (rearM[rearM.length - 1] ?? 0) + frontAheadM,
    diameterFactor,
    contactCyclesPerM,
    blurM,
  };
  const { meanM, differenceM } = laidLines(events, meeting);
  const rear = rearM.map(meanM);
  const front = rearM.map((at) => meanM(at + frontAheadM));
  return {
    pitchRad: rear.map((height, t) => (front[t] - height) / wheelbaseM),
    heaveM: rear.map((height, t) => (front[t] + height) / 2),
    rollRad:
      differenceM === null || trackWidthM === null
        ? null
        : rearM.map((at) => (differenceM(at) + differenceM(at + frontAheadM)) / (2 * trackWidthM)),
  };
}
