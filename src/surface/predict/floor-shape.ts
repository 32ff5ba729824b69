/**
 * The spectrum of a fitted floor for waves in and beyond the band that its pass showed: one-sided density in m^3 over cycles/m, and
 * how far its exponent can be trusted.
 *
 * In the band the exponent is the fitted one, drawn towards 2 as far as it is uncertain; beyond it 2, joined to the end of the band.
 * Own derivation.
 */
import { CLASS_WAVINESS, displacementPsd } from '../roughness/road-profile.js';
import type { PredictedFloor } from './types.js';

/** Exponents of floors lie within 1.6 and 2.5, mostly: what is known before a pass is fitted (sd). */
const USUAL_SD = 0.35;
/** The mean of the tracks falls more steeply than either track, and their difference less: tracks are alike for long waves (sd). */
const TRACKS_SD = 0.25;

/** Band and exponent of a floor. */
export interface FloorShape {
  readonly lowestCyclesPerM: number;
  readonly highestCyclesPerM: number;
  /** Where a level that was fitted at w = 2 holds whatever the exponent, cycles/m. */
  readonly pivotCyclesPerM: number;
  readonly exponent: number;
  readonly exponentSd: number;
}

/** Shape of a floor from the waves its pass showed and the exponent it fitted, if any. */
export function floorShape({
  wavelengthsM,
  waviness,
}: Pick<PredictedFloor, 'wavelengthsM' | 'waviness'>): FloorShape {
  const lowestCyclesPerM = 1 / wavelengthsM[1];
  const highestCyclesPerM = 1 / wavelengthsM[0];
  const trust = waviness === null ? 0 : (USUAL_SD / waviness.sd) ** 2;
  const fitted = waviness?.value ?? CLASS_WAVINESS;
  return {
    lowestCyclesPerM,
    highestCyclesPerM,
    pivotCyclesPerM: meanOnLogAxis(lowestCyclesPerM, highestCyclesPerM),
    exponent: (trust * fitted + CLASS_WAVINESS) / (trust + 1),
    exponentSd: Math.hypot(USUAL_SD / Math.sqrt(trust + 1), TRACKS_SD),
  };
}

/** Density of a floor of that shape, m^3. @param levelM3 Gd(n0) as fitted at w = 2 @param cyclesPerM n > 0 */
export function shapedPsd(levelM3: number, shape: FloorShape, cyclesPerM: number): number {
  const { lowestCyclesPerM, highestCyclesPerM, pivotCyclesPerM, exponent } = shape;
  const inBand = Math.max(lowestCyclesPerM, Math.min(highestCyclesPerM, cyclesPerM));
  return displacementPsd(levelM3, cyclesPerM) * (inBand / pivotCyclesPerM) ** (CLASS_WAVINESS - exponent);
}

/** The likelihood weighs every frequency alike, so its level is right at the mean of ln n over the band. */
function meanOnLogAxis(from: number, to: number): number {
  if (!(to > from)) return from;
  return Math.exp((to * Math.log(to) - from * Math.log(from)) / (to - from) - 1);
}
