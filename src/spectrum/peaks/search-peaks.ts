/**
 * The greedy search: what stands out most over its threshold is taken first, its surroundings are closed, and so on; hertz and
 * (unit of the series)^2 per Hz.
 */
import { valueAt, type Background } from './background.js';
import { lineOrResonance, type ShapeVerdict } from './line-or-resonance.js';
import { lineLeak, steadyLeak } from './line-shape.js';
import { resonanceLift } from './resonance.js';
import type { TaperSpectra } from './taper-spectra.js';

/** A peak of the time domain. */
export interface Candidate extends ShapeVerdict {
  readonly freqHz: number;
  /** Line spectrum at the peak, and the background under it. */
  readonly height: number;
  readonly under: number;
  /** How far it exceeds the threshold that it passed, >= 1. */
  readonly excess: number;
}

/** A peak must pass this many cycles in the series: fewer cannot be told from drift. */
const LEAST_CYCLES = 8;
const MOST_PEAKS = 12;
/** What a line closes around itself in both spectra, in units of 1 / T. */
const LINE_REACH = 1.75;
const STEADY_REACH = 4;
/** What a resonance closes at least, and the factor on its half-power width. */
const RESONANCE_REACH: readonly [number, number] = [1.5, 2];
const RESONANCE_STEADY_REACH: readonly [number, number] = [3, 3];
/** A broad rise has its highest line within this, in units of 1 / T. */
const BROAD_REACH = 2.5;
const EMPTY_REACH = 3;
/** ln odds above which a peak is taken for a resonance and becomes part of the background. */
const RESONANCE_LN_ODDS = 1;
/** The resonance lowers the background no further. */
const LEAST_LIFT = 0.7;

/** Whether a peak counts as a resonance. */
export function isResonance({ lnOdds, resonance }: ShapeVerdict): boolean {
  return resonance !== null && lnOdds > RESONANCE_LN_ODDS;
}

/**
 * Peaks over a background, strongest over its threshold first; at most 12, none of fewer than 8 cycles.
 *
 * @param pureOverWay whether what looks broad over time is a line over the way of the dolly; null without a way
 */
export function searchPeaks(
  spectra: TaperSpectra,
  background: Background,
  pureOverWay: ((freqHz: number) => boolean) | null = null,
): Candidate[] {
  const { line, steady, durationS, bandHz } = spectra;
  const underLine = Float64Array.from(background.line);
  const limitLine = Float64Array.from(background.lineLimit);
  const limitSteady = Float64Array.from(background.steadyLimit);
  const leakLine = new Float64Array(line.psd.length);
  const leakSteady = new Float64Array(steady.psd.length);
  const lowestHz = Math.max(bandHz[0], LEAST_CYCLES / durationS);
  const open = (f: number): number => (f > lowestHz && f < bandHz[1] ? 1 : 0);
  const freeLine = Uint8Array.from(line.freqHz, open);
  const freeSteady = Uint8Array.from(steady.freqHz, open);
  const close = (free: Uint8Array, freqHz: Readonly<Float64Array>, at: number, reachHz: number): void =>
    freqHz.forEach((f, i) => {
      if (Math.abs(f - at) <= reachHz) free[i] = 0;
    });

  const found: Candidate[] = [];
  while (found.length < MOST_PEAKS) {
    const byLine = highest(freeLine, (i) =>
      isTop(line.psd, i) ? line.psd[i] / (limitLine[i] + leakLine[i]) : 0,
    );
    // The flank of something stronger is no rise of its own.
    const byBroad = highest(freeSteady, (i) =>
      isRise(steady.psd, i) ? steady.psd[i] / (limitSteady[i] + leakSteady[i]) : 0,
    );
    const excess = Math.max(byLine.value, byBroad.value);
    if (!(excess >= 1)) break;
    const near = steady.freqHz[byBroad.at];
    const within = freeLine.map((free, i) =>
      Math.abs(line.freqHz[i] - near) < BROAD_REACH / durationS ? free : 0,
    );
    const at =
      byLine.value >= byBroad.value ? byLine.at : highest(within, (i) => line.psd[i] / underLine[i]).at;
    if (at < 0 || line.psd[at] <= underLine[at]) {
      close(freeSteady, steady.freqHz, near, EMPTY_REACH / durationS);
      continue;
    }
    const { offset, height } = vertex(line.psd, at);
    const freqHz = line.freqHz[at] + offset * line.freqHz[1];
    const asSeen = lineOrResonance(spectra, underLine, freeLine, at, freqHz);
    const smeared = isResonance(asSeen) && pureOverWay?.(freqHz) === true;
    const verdict: ShapeVerdict = smeared ? { lnOdds: -Infinity, resonance: null } : asSeen;
    const broad = isResonance(verdict);
    found.push({
      ...verdict,
      freqHz: broad ? verdict.resonance!.freqHz : freqHz,
      height,
      under: valueAt(line.freqHz, background.line, freqHz),
      excess,
    });
    if (broad) {
      const resonance = verdict.resonance!;
      const lift = (f: number): number => Math.max(resonanceLift(f, resonance), LEAST_LIFT);
      line.freqHz.forEach((f, i) => {
        underLine[i] *= lift(f);
        limitLine[i] *= lift(f);
      });
      steady.freqHz.forEach((f, i) => (limitSteady[i] *= lift(f)));
      const width = resonance.dampingRatio * resonance.freqHz;
      const reach = ([least, widths]: readonly [number, number]): number =>
        Math.max(least / durationS, widths * width);
      close(freeLine, line.freqHz, resonance.freqHz, reach(RESONANCE_REACH));
      close(freeSteady, steady.freqHz, resonance.freqHz, reach(RESONANCE_STEADY_REACH));
    } else {
      close(freeLine, line.freqHz, freqHz, LINE_REACH / durationS);
      close(freeSteady, steady.freqHz, freqHz, STEADY_REACH / durationS);
      line.freqHz.forEach((f, i) => (leakLine[i] += height * lineLeak((f - freqHz) * durationS)));
      steady.freqHz.forEach((f, i) => (leakSteady[i] += height * steadyLeak((f - freqHz) * durationS)));
    }
  }
  return found;
}

function isTop(psd: Readonly<Float64Array>, i: number): boolean {
  return i > 0 && i + 1 < psd.length && psd[i] >= psd[i - 1] && psd[i] > psd[i + 1];
}

/** A bin not lower than its neighbours; the first and the last of the band may be one. */
function isRise(psd: Readonly<Float64Array>, i: number): boolean {
  return psd[i] >= psd[Math.max(0, i - 1)] && psd[i] >= psd[Math.min(psd.length - 1, i + 1)];
}

function highest(free: Readonly<Uint8Array>, score: (i: number) => number): { at: number; value: number } {
  let best = { at: -1, value: 0 };
  for (let i = 0; i < free.length; i++) {
    if (free[i] === 0) continue;
    const value = score(i);
    if (value > best.value) best = { at: i, value };
  }
  return best;
}

/** Vertex of the parabola through ln of three neighbouring ordinates: offset in steps (-0.5..0.5) and its ordinate; a bin that is no top stays. */
export function vertex(psd: Readonly<Float64Array>, at: number): { offset: number; height: number } {
  if (!isTop(psd, at)) return { offset: 0, height: psd[at] };
  const [left, middle, right] = [at - 1, at, at + 1].map((i) => Math.log(psd[i] + Number.MIN_VALUE));
  const bend = left - 2 * middle + right;
  const offset = bend < 0 ? (0.5 * (left - right)) / bend : 0;
  return { offset, height: Math.exp(middle - 0.25 * (left - right) * offset) };
}
