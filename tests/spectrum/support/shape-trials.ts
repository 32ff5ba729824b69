/** Whether lines close together, or a mount that rings, read as a resonance. */
import { floorBackground } from '../../../src/spectrum/peaks/floor-background.js';
import { floorModel } from '../../../src/spectrum/peaks/floor-model.js';
import { lineOrResonance } from '../../../src/spectrum/peaks/line-or-resonance.js';
import { taperSpectra } from '../../../src/spectrum/peaks/taper-spectra.js';
import type { SimulatedPass } from './simulated-pass.js';

/** ln odds of a resonance at the highest ordinate of the line spectrum of tilt between two frequencies. */
export function resonanceLnOdds(
  pass: SimulatedPass,
  [lowHz, highHz]: readonly [number, number],
  mostLines?: number,
): number {
  const series = pass.searched('tilt');
  const spectra = taperSpectra(series);
  const under = floorBackground(spectra, floorModel(spectra, series, series.floor!), null).line;
  const { freqHz, psd } = spectra.line;
  let top = -1;
  freqHz.forEach((f, i) => {
    if (f > lowHz && f < highHz && (top < 0 || psd[i] / under[i] > psd[top] / under[top])) top = i;
  });
  const free = new Uint8Array(psd.length).fill(1);
  return lineOrResonance(spectra, under, free, top, freqHz[top], mostLines).lnOdds;
}
