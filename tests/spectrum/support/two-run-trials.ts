/** What two passes at different speeds say of lines: constant in frequency, constant in wavelength, or in one of them only. */
import { seededRandom } from '../../../src/numerics/index.js';
import { compareRuns } from '../../../src/spectrum/causes/compare-runs.js';
import { nameCauses } from '../../../src/spectrum/causes/name-causes.js';
import type { RunToRun, RunWindow, ShakeSource } from '../../../src/spectrum/causes/types.js';
import { findPeaks } from '../../../src/spectrum/peaks/find-peaks.js';
import { lineAmplitudes } from './line-strength.js';
import { PLAIN, simulatedPass, type Machine } from './simulated-pass.js';

const STRENGTHS = [15, 25, 50];
const SPEED_SD = 0.02;
const BAND_HZ: readonly [number, number] = [1, 12];

/** What became of lines of one kind that both runs showed; of one that only one showed. */
export interface KindFigures {
  said: number;
  right: number;
  wrong: number;
}

/** Kinds of lines. */
export type TwoRunFigures = Readonly<Record<'frequency' | 'wavelength' | 'oneRun', KindFigures>>;

/**
 * Pairs of passes, each with a machine, a line that rolls, and in the first one more line; speeds told 2 % off by turns.
 *
 * @param ratio speed of the second pass over that of the first
 */
export function twoRunFigures(ratio: number, durationS: number, pairs: number): TwoRunFigures {
  const random = seededRandom(97 + Math.round(100 * ratio));
  const speedsMps = [PLAIN.speedMps, PLAIN.speedMps * ratio];
  const amplitudes = speedsMps.map((speedMps) => lineAmplitudes('tilt', { speedMps, durationS }));
  const figures = { frequency: none(), wavelength: none(), oneRun: none() };
  for (let pair = 0; pair < pairs; pair++) {
    const [machineHz, waveHz, alone] = apart(random, ratio, durationS);
    const runs = [0, 1].map((run) => {
      const line = (freqHz: number, rolling: boolean): Machine => {
        const strength = STRENGTHS[Math.floor(random() * STRENGTHS.length)];
        return { freqHz, rolling, amplitude: { tilt: amplitudes[run](freqHz, strength) } };
      };
      const wave = waveHz * (run === 0 ? 1 : ratio);
      const machines = [line(machineHz, false), line(wave, true)];
      if (run === 0) machines.push(line(alone, false));
      return seen(11_000 + 2 * pair + run, speedsMps[run], durationS, machines);
    });
    const said = compareRuns(runs[0].sources, runs[0].window, {
      ...runs[1].window,
      name: 'second run',
      sources: runs[1].sources.map(({ freqHz, freqSdHz }) => ({ freqHz, freqSdHz, axes: ['tilt'] as const })),
    });
    const shows = (run: number, freqHz: number): number => near(runs[run].sources, freqHz, durationS);
    const first = (freqHz: number): RunToRun | undefined => said[shows(0, freqHz)];
    if (shows(1, machineHz) >= 0) count(figures.frequency, first(machineHz), 'constantFrequency');
    if (shows(1, waveHz * ratio) >= 0) count(figures.wavelength, first(waveHz), 'constantWavelength');
    count(figures.oneRun, first(alone), 'neither');
  }
  return figures;
}

const none = (): KindFigures => ({ said: 0, right: 0, wrong: 0 });

/** Open ones are neither right nor wrong. */
function count(kind: KindFigures, one: RunToRun | undefined, behaves: RunToRun['behaves']): void {
  if (one === undefined) return;
  kind.said++;
  if (one.behaves === behaves) kind.right++;
  else if (one.behaves !== 'open') kind.wrong++;
}

/** Frequencies that stay 3 / T from each other in both runs, as they are and as either speed would move them. */
function apart(random: () => number, ratio: number, durationS: number): [number, number, number] {
  const topHz = Math.min(8.5, 11 / ratio);
  for (;;) {
    const freqs = [0, 1, 2].map(() => 1.8 + (topHz - 1.8) * random());
    const places = freqs.flatMap((freqHz, i) => [freqHz, freqHz * ratio].map((at) => ({ i, at })));
    const clear = places.every((a) =>
      places.every((b) => a.i === b.i || Math.abs(a.at - b.at) > 3 / durationS),
    );
    if (clear) return freqs as [number, number, number];
  }
}

function seen(
  seed: number,
  speedMps: number,
  durationS: number,
  machines: readonly Machine[],
): { readonly sources: readonly ShakeSource[]; readonly window: RunWindow } {
  const speedTold = 1 + (seed & 2 ? SPEED_SD : -SPEED_SD) * (seed & 1 ? 0.7 : -0.7);
  const { peaks } = findPeaks(
    simulatedPass({ seed, speedMps, durationS, machines, speedTold }).searched('tilt'),
  );
  const { rateHz, shutterShare, wheelbaseM } = PLAIN;
  const speed = { speedMps: speedMps * speedTold, speedSdShare: SPEED_SD };
  const band = { durationS, rateHz, bandHz: BAND_HZ, exposureS: shutterShare / rateHz };
  const known = { ...speed, wheelDiameterM: null, joint: null, machinesHz: [], mountHz: null, lampsHz: [] };
  const { sources } = nameCauses(
    peaks.map((peak) => ({ axis: 'tilt', peak })),
    known,
    band,
  );
  return { sources, window: { ...speed, rateHz, bandHz: BAND_HZ, durationS, wheelbaseM } };
}

/** Place of the source within 1.5 / T of a frequency; -1 without one. */
function near(sources: readonly ShakeSource[], freqHz: number, durationS: number): number {
  const offs = sources.map((source) => Math.abs(source.freqHz - freqHz));
  const least = Math.min(...offs);
  return least < 1.5 / durationS ? offs.indexOf(least) : -1;
}
