/**
 * A predicted RMS with its 95 % range, from the model of the new setup, and, when the pass was measured, from the model of its own
 * setup and what it really shook.
 *
 * What the pass shook beyond the model may be floor that the model does not hold, and then moves with the setup; or machine, and
 * then stays as it is. Errors that both setups share cancel; so does the chance of the very stretch of floor, as far as both setups
 * live on the same waves. Own derivation.
 */
import { TWO_SIDED_95 } from '../../numerics/index.js';
import { binEdge } from './rough-shake.js';
import { UNKNOWNS, type ModelPower } from './model-power.js';
import type { PredictedRms } from './types.js';

/** Of ln power: high-pass, exposure and folding as modelled against passes driven at several speeds (3 % of RMS). */
const MODEL_SD = 0.06;

/** Power of the pass's own setup by the model, and as measured; both in the unit of the prediction. */
export interface MeasuredPower {
  readonly model: ModelPower;
  readonly power: number;
  /** Of ln of the measured RMS. */
  readonly sdLn: number;
}

/** Total power of a model. */
export function totalPower(model: ModelPower): number {
  return model.roughness + model.events;
}

/**
 * The RMS of the new setup.
 *
 * @param measured null when nothing was measured: the level of the fit then stands alone
 * @param runLengthM stretch of floor, the same in both
 */
export function predictedRms(
  model: ModelPower,
  measured: MeasuredPower | null,
  runLengthM: number,
): PredictedRms {
  const total = totalPower(model);
  const parts = {
    roughness: Math.sqrt(model.roughness),
    events: Math.sqrt(model.events),
    unseenShare: model.roughness > 0 ? model.unseen / model.roughness : 0,
  };
  if (measured === null) {
    const rms = Math.sqrt(total);
    const range = rangeOf(rms, lnPowerSd(model, 1 / total, null, 0, runLengthM));
    return { ...range, ...parts, allFloor: rms, fittedOnly: rms };
  }
  const before = totalPower(measured.model);
  const allFloor = rangeOf(
    Math.sqrt((measured.power * total) / before),
    withMeasured(lnPowerSd(model, 1 / total, measured.model, 1 / before, runLengthM), measured),
  );
  const modelSd = lnPowerSd(measured.model, 1 / before, null, 0, runLengthM);
  // What the fit may well be off by is no sign of a machine.
  if (Math.log(measured.power / before) < modelSd)
    return { ...allFloor, ...parts, allFloor: allFloor.value, fittedOnly: allFloor.value };
  const power = total + measured.power - before;
  const fittedOnly = rangeOf(
    Math.sqrt(power),
    withMeasured(lnPowerSd(model, 1 / power, measured.model, 1 / power, runLengthM), measured),
  );
  return {
    value: Math.sqrt(allFloor.value * fittedOnly.value),
    low: Math.min(allFloor.low, fittedOnly.low),
    high: Math.max(allFloor.high, fittedOnly.high),
    ...parts,
    allFloor: allFloor.value,
    fittedOnly: fittedOnly.value,
  };
}

/** Sd of ln power of factor * model - otherFactor * other, each unknown moving both. */
export function lnPowerSd(
  model: ModelPower,
  factor: number,
  other: ModelPower | null,
  otherFactor: number,
  runLengthM: number,
): number {
  let variance = sameAs(model, other) ? 0 : MODEL_SD ** 2;
  for (const unknown of UNKNOWNS) {
    variance += (factor * model.perUnknown[unknown] - otherFactor * (other?.perUnknown[unknown] ?? 0)) ** 2;
  }
  // A run of length X shows each wave bin of width dn in dn X independent draws, whose power scatters by its own mean.
  model.byWave.forEach((power, bin) => {
    const difference = factor * power - otherFactor * (other?.byWave[bin] ?? 0);
    if (difference !== 0) variance += difference ** 2 / ((binEdge(bin + 1) - binEdge(bin)) * runLengthM);
  });
  return Math.sqrt(variance);
}

function withMeasured(sdLnPower: number, { sdLn }: MeasuredPower): number {
  return Math.hypot(sdLnPower, 2 * sdLn);
}

/** The same setup over the same floor: its measured shake is the answer, without an error of the model. */
function sameAs(model: ModelPower, other: ModelPower | null): boolean {
  return other !== null && model.byWave.every((power, bin) => power === other.byWave[bin]);
}

/** @param sdLnPower of ln of the power; the RMS has half of it */
function rangeOf(value: number, sdLnPower: number): { value: number; low: number; high: number } {
  const factor = Math.exp((TWO_SIDED_95 * sdLnPower) / 2);
  return { value, low: value / factor, high: value * factor };
}
