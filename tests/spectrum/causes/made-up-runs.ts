/** Two made-up runs of one dolly: lines of constant frequency, of constant wavelength, and unrelated ones, as a detector hands them on. */
import { gaussianRandom, seededRandom } from '../../../src/numerics/index.js';
import { aliasedFrequencyHz } from '../../../src/optics/index.js';
import type { OtherRun, RunToRun, RunWindow, ShakeSource } from '../../../src/spectrum/causes/types.js';
import { madeUpPeak } from './made-up-peaks.js';

export const HERE: RunWindow = {
  speedMps: 0.2,
  speedSdShare: 0.02,
  rateHz: 25,
  bandHz: [1, 12],
  durationS: 10,
  wheelbaseM: null,
};

/** A source that nobody named. */
export function madeUpSource(freqHz: number, freqSdHz = 0.012): ShakeSource {
  return {
    sightings: [{ axis: 'tilt', peak: madeUpPeak(freqHz, { freqSdHz }) }],
    freqHz,
    freqSdHz,
    cause: 'unknown',
    probability: null,
    candidates: [],
    trueHz: freqHz,
    harmonic: null,
    reason: null,
  };
}

/** The other run with peaks at these places. */
export function otherRun(given: Partial<RunWindow>, freqsHz: readonly number[], freqSdHz = 0.012): OtherRun {
  const sources = freqsHz.map((freqHz) => ({ freqHz, freqSdHz, axes: ['tilt' as const] }));
  return { ...HERE, ...given, name: 'second pass', sources };
}

type Kind = 'constantFrequency' | 'constantWavelength' | 'unrelated';

export interface MadeUpRuns {
  readonly sources: readonly ShakeSource[];
  readonly other: OtherRun;
  readonly truth: readonly { readonly kind: Kind; readonly trueHz: number }[];
}

/** What the runs are made of. */
export interface RunMixture {
  readonly ratio: number;
  readonly kinds: readonly Kind[];
  readonly otherRateHz?: number;
  /** Share of the lines that is folded in the first run. */
  readonly foldedShare?: number;
}

/** Lines of strength 15 to 50 at random places apart from each other; both speeds told with an error of 2 %. */
export function madeUpRuns(seed: number, count: number, mixture: RunMixture): MadeUpRuns[] {
  const random = seededRandom(seed);
  const gaussian = gaussianRandom(random);
  const { ratio, kinds, otherRateHz = HERE.rateHz, foldedShare = 0 } = mixture;
  const [low, high] = HERE.bandHz;
  const otherBand: [number, number] = [low, 0.48 * otherRateHz];
  const place = (top: number): number => low * Math.exp(random() * Math.log(top / low));
  const strength = (): number => [15, 25, 50][Math.floor(random() * 3)];
  const sd = (rho: number): number => 0.5 / (HERE.durationS * Math.sqrt(rho));

  const one = (): MadeUpRuns => {
    const speeds = Math.exp(HERE.speedSdShare * (gaussian() - gaussian()));
    const sources: ShakeSource[] = [];
    const truth: { kind: Kind; trueHz: number }[] = [];
    const others: { freqHz: number; freqSdHz: number; axes: readonly ['tilt'] }[] = [];
    for (const kind of kinds) {
      let seenHz = 0;
      do seenHz = place(high / (kind === 'constantWavelength' ? ratio : 1));
      while (sources.some(({ freqHz }) => Math.abs(freqHz - seenHz) < 1.75 / HERE.durationS));
      const trueHz = random() < foldedShare ? HERE.rateHz + (random() < 0.5 ? 1 : -1) * seenHz : seenHz;
      const moved = kind === 'constantWavelength' ? trueHz * ratio * speeds : trueHz;
      const thereHz = kind === 'unrelated' ? place(otherBand[1]) : aliasedFrequencyHz(moved, otherRateHz);
      const [rho, otherRho] = [strength(), strength()];
      sources.push(madeUpSource(seenHz + sd(rho) * gaussian(), 1.3 * sd(rho)));
      truth.push({ kind, trueHz });
      if (thereHz < otherBand[0] || thereHz > otherBand[1]) continue;
      const otherSd = sd(otherRho);
      others.push({ freqHz: thereHz + otherSd * gaussian(), freqSdHz: 1.3 * otherSd, axes: ['tilt'] });
    }
    const window = { speedMps: HERE.speedMps! * ratio, rateHz: otherRateHz, bandHz: otherBand };
    return { sources, truth, other: { ...HERE, ...window, name: 'second pass', sources: others } };
  };
  return Array.from({ length: count }, one);
}

/** Shares of lines of a kind that are said rightly, wrongly (the other kind), and left open or called neither. */
export function shareOf(
  runs: readonly MadeUpRuns[],
  compare: (runs: MadeUpRuns) => readonly RunToRun[],
  kind: Kind,
): { right: number; wrong: number; open: number; trueRight: number; trueWrong: number } {
  const counts = { right: 0, wrong: 0, open: 0, trueRight: 0, trueWrong: 0 };
  let lines = 0;
  for (const pass of runs) {
    compare(pass).forEach(({ behaves, trueHz }, i) => {
      const truth = pass.truth[i];
      if (truth.kind !== kind) return;
      lines++;
      const said = behaves === 'constantFrequency' || behaves === 'constantWavelength';
      if (behaves === kind || (kind === 'unrelated' && !said)) counts.right++;
      else if (said) counts.wrong++;
      if (!said) counts.open++;
      if (behaves === kind && trueHz !== null) {
        if (Math.abs(trueHz - truth.trueHz) < 0.2) counts.trueRight++;
        else counts.trueWrong++;
      }
    });
  }
  const share = (n: number): number => n / lines;
  return {
    right: share(counts.right),
    wrong: share(counts.wrong),
    open: share(counts.open),
    trueRight: share(counts.trueRight),
    trueWrong: share(counts.trueWrong),
  };
}
