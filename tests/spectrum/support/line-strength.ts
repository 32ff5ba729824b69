/** How large a line must be to stand so many times above what the floor alone shows: amplitudes for simulated passes, rad and m. */
import { fourthDifferenceGain } from '../../../src/numerics/index.js';
import { exposureGain } from '../../../src/optics/index.js';
import { floorViewOf } from '../../../src/spectrum/peaks/floor-view.js';
import { CLASS_SHAPE, expectedSpectra } from '../../../src/surface/index.js';
import { PLAIN, simulatedPass, type SimulatedAxis, type SimulatedOptions } from './simulated-pass.js';

/** Amplitude of a motion by the frequency where frames show it, its strength there, and its true frequency. */
export type LineAmplitude = (seenHz: number, strength: number, trueHz?: number) => number;

/**
 * The law for one axis of one kind of pass: rho = A^2 T / (2 S), with S the density that one sine taper is expected to show of floor and
 * noise there, notches and all.
 *
 * @returns amplitude of the motion before shutter and high-pass
 */
export function lineAmplitudes(axis: SimulatedAxis, given: Partial<SimulatedOptions>): LineAmplitude {
  const o = { ...PLAIN, ...given };
  const { durationS, rateHz, gdM3, noiseSd } = o;
  const asIs = { speedTold: 1, wheelbaseToldM: o.wheelbaseM, wander: 0 };
  const { told, placeM } = simulatedPass({ ...o, ...asIs, lobes: [], dips: null, mount: null, machines: [] });
  const { dolly, exposureS, cutoffHz } = told;
  const frameCount = placeM.length;
  const speedsMps = Float64Array.of(o.speedMps);
  const expected = expectedSpectra({ rateHz, frameCount, speedsMps, dolly, exposureS, cutoffHz }, 1);
  // The simulated wheels touch in one point.
  const [floor] = expected.floorsThrough(floorViewOf(axis, told)!.powerGain, CLASS_SHAPE, [Infinity], 1);
  const density = (bin: number): number => {
    // The mean of two independent tracks holds half of the power of one.
    const power = (gdM3 / 2) * floor[bin] + ((2 * noiseSd[axis] ** 2) / rateHz) * expected.noise[bin];
    return power / fourthDifferenceGain((bin * rateHz) / frameCount, rateHz, cutoffHz) ** 2;
  };
  return (seenHz, strength, trueHz = seenHz) =>
    Math.sqrt((2 * strength * density(Math.round((seenHz * frameCount) / rateHz))) / durationS) /
    exposureGain(trueHz, exposureS);
}
