/** A floor and a setup to start predictions from: a class A-2 floor under a dolly of 0.45 m at 0.25 m/s, 25 frames a second. */
import type { PredictedFloor, SetupForPrediction } from '../../../src/surface/predict/types.js';
import { CUTOFF_HZ, EXPOSURE_S, RATE_HZ, TRACK_WIDTH_M, type Drive } from './driven-deck.js';

export const SAME_WHEEL = { diameterFactor: 1, contactCyclesPerM: null, contactFactor95: 1 };

export const PRESENT: SetupForPrediction = {
  speedMps: 0.25,
  rateHz: RATE_HZ,
  exposureS: EXPOSURE_S,
  cutoffHz: CUTOFF_HZ,
  wheelbaseM: 0.45,
  trackWidthM: TRACK_WIDTH_M,
  wheel: SAME_WHEEL,
  azimuthRad: 0,
  view: { focalPx: 2000, widthPx: 1920, heightPx: 1080 },
};

export const PLAIN_FLOOR: PredictedFloor = {
  meanTrackM3: 5e-7,
  differenceM3: 2e-6,
  sdLn: 0.1,
  contactCyclesPerM: 110,
  wavelengthsM: [(2 * PRESENT.speedMps) / RATE_HZ, PRESENT.speedMps / CUTOFF_HZ],
  waviness: null,
  runLengthM: 8,
  events: [],
  measured: null,
};

/** The setup that a drive stands for. */
export function setupOf(drive: Drive, wheel = SAME_WHEEL): SetupForPrediction {
  return { ...PRESENT, speedMps: drive.speedMps, wheelbaseM: drive.wheelbaseM, wheel };
}
