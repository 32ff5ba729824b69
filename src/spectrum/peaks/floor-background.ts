/**
 * The background of an axis that the floor drives: the spectrum that the floor as fitted gives through the dolly, raised to cover every
 * place that its notches may have, times a slow factor for what the model lacks. (Unit of the series)^2 per Hz.
 */
import type { Background } from './background.js';
import { valueAt } from './background.js';
import type { FloorModel } from './floor-model.js';
import { expectedOf, lnFreqOver } from './level-and-noise.js';
import { fitNotches, type Lift } from './notch-fit.js';
import { runningLevel } from './running-level.js';
import type { TaperSpectra } from './taper-spectra.js';

/** Places of the notches that the envelope of the line spectrum is made of: neighbours differ by a third of a bin. */
const MOST_PLACES = 25;

/** Fits the floor and gives its background. @param lift of a resonance between floor and lens; null without */
export function floorBackground(spectra: TaperSpectra, model: FloorModel, lift: Lift | null): Background {
  const { steady, line, durationS, bandHz } = spectra;
  const { levels, allowed, best, phase } = fitNotches(spectra, model, lift);
  const steadyLift = lift && steady.freqHz.map(lift);
  const highest = envelope(allowed.map(model.steadyFloor));
  const expected = expectedOf(
    {
      floor: steadyLift ? highest.map((a, i) => a * steadyLift[i]) : highest,
      noise: model.steadyNoise,
      lnFreq: lnFreqOver(steady.freqHz, bandHz),
    },
    levels,
  );
  const factor = runningLevel(
    spectra,
    steady.psd.map((s, i) => s / expected[i]),
  );
  const lineBins = envelope(some(allowed).map(model.lineFloor));
  const lineHz = lineBins.map((_, i) => i / durationS);
  const lineLift = lift && lineHz.map(lift);
  const lineExpected = expectedOf(
    {
      floor: lineLift ? lineBins.map((a, i) => a * lineLift[i]) : lineBins,
      noise: model.lineNoise,
      lnFreq: lnFreqOver(lineHz, bandHz),
    },
    levels,
  );
  return {
    kind: 'floor',
    steady: expected.map((e, i) => e * factor[i]),
    line: line.freqHz.map((f) => valueAt(lineHz, lineExpected, f) * valueAt(steady.freqHz, factor, f)),
    phase,
    phaseOffset: best,
  };
}

function envelope(columns: readonly Float64Array[]): Float64Array {
  return columns[0].map((_, i) => columns.reduce((top, column) => Math.max(top, column[i]), 0));
}

/** At most so many, evenly chosen, both ends among them. */
function some(places: readonly number[]): readonly number[] {
  if (places.length <= MOST_PLACES) return places;
  const last = places.length - 1;
  return Array.from({ length: MOST_PLACES }, (_, k) => places[Math.round((k * last) / (MOST_PLACES - 1))]);
}
