/**
 * Narrow lines in deck spectra that no floor makes: motors, fans and wheels, in hertz; they are left out of the grade.
 *
 * A bin whose measured power exceeds its expectation beyond the 1-in-1000 tail of its distribution (Gamma(K)/K for K tapers) is
 * a line; tapers spread it over its neighbours, which are left out with it.
 */
import { gammaQuantile } from '../../numerics/index.js';
import { TAPER_COUNT } from './expected-spectrum.js';
import type { DeckChannel } from '../deck/deck-transfer.js';
import {
  fitFloor,
  fittedSpectrum,
  type ChannelSpectrum,
  type ContactTable,
  type FloorFit,
  type KeptBins,
} from './floor-fit.js';

/** Measured over expected power that noise alone exceeds once in 1000 bins: 2.96 for five tapers. */
export const LINE_RATIO = gammaQuantile(0.999, TAPER_COUNT) / TAPER_COUNT;

/** Bins left out on each side of a line: half of K + 2. */
const SPREAD_BINS = Math.floor((TAPER_COUNT + 2) / 2);
const MAX_ROUNDS = 4;

/** Chance that a floor alone puts one line on the list; the limit for leaving bins out is looser. */
const LISTED_BY_CHANCE = 0.01;
/**
 * Far tails of the ratio are those of fewer tapers: notches make tapers alike, and the fit is not the floor. With five, one clean pass
 * in twelve had a line on its list, with three none to one in a hundred (120 made-up passes).
 */
const TAIL_SHAPE = 3;

/** A line that stands out so far that no floor makes it. */
export interface MachineLine {
  readonly channel: DeckChannel;
  readonly freqHz: number;
}

/** A floor fitted between the lines. */
export interface MaskedFit {
  readonly fit: FloorFit;
  readonly kept: KeptBins;
  readonly lines: readonly MachineLine[];
  /** Largest share of the band that was left out of a channel, 0..1. */
  readonly maskedShare: number;
}

/**
 * Fits, leaves the lines out, and fits again, until the lines stay the same or four rounds are over.
 *
 * @param band bins of the frequency band of the grade
 */
export function fitBetweenLines(
  channels: readonly ChannelSpectrum[],
  table: ContactTable,
  band: Uint8Array,
  freqHz: Float64Array,
): MaskedFit {
  let kept: KeptBins = new Map(channels.map(({ channel }) => [channel, band]));
  let fit = fitFloor(channels, table, kept);
  let lines: MachineLine[] = [];
  const width = count(band);
  const perBin = LISTED_BY_CHANCE / (width * channels.length);
  const listedRatio = gammaQuantile(1 - perBin, TAIL_SHAPE) / TAIL_SHAPE;
  for (let round = 0; round < MAX_ROUNDS; round++) {
    const next = new Map<DeckChannel, Uint8Array>();
    lines = [];
    for (const one of channels) {
      const expected = fittedSpectrum(one, table, fit);
      next.set(one.channel, withoutNeighbours(band, binsOver(one.psd, expected, band, LINE_RATIO)));
      lines.push(...linesOf(one, binsOver(one.psd, expected, band, listedRatio), freqHz));
    }
    const settled = channels.every(({ channel }) => sameBins(kept.get(channel)!, next.get(channel)!));
    if (settled) break;
    kept = next;
    fit = fitFloor(channels, table, kept);
  }
  const shares = channels.map(({ channel }) => 1 - count(kept.get(channel)!) / width);
  return { fit, kept, lines, maskedShare: Math.max(...shares) };
}

function binsOver(
  measured: Float64Array,
  expected: Float64Array,
  band: Uint8Array,
  ratio: number,
): Uint8Array {
  return band.map((inBand, i) => (inBand === 1 && measured[i] > ratio * expected[i] ? 1 : 0));
}

function withoutNeighbours(band: Uint8Array, over: Uint8Array): Uint8Array {
  const out = Uint8Array.from(band);
  over.forEach((hit, at) => {
    if (hit === 1) out.fill(0, Math.max(0, at - SPREAD_BINS), at + SPREAD_BINS + 1);
  });
  return out;
}

/** One line per group of hits: the bin with the most power. */
function linesOf({ channel, psd }: ChannelSpectrum, over: Uint8Array, freqHz: Float64Array): MachineLine[] {
  const lines: MachineLine[] = [];
  let last = -Infinity;
  let peak = 0;
  over.forEach((hit, at) => {
    if (hit === 0) return;
    if (at - last > SPREAD_BINS) peak = lines.push({ channel, freqHz: freqHz[at] }) && at;
    else if (psd[at] > psd[peak]) {
      peak = at;
      lines[lines.length - 1] = { channel, freqHz: freqHz[at] };
    }
    last = at;
  });
  return lines;
}

function sameBins(a: Uint8Array, b: Uint8Array): boolean {
  return a.every((value, i) => value === b[i]);
}

function count(bins: Uint8Array): number {
  return bins.reduce((sum, value) => sum + value, 0);
}
