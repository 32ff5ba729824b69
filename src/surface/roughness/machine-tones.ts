/**
 * Tones of machines (motors, fans, wheels out of round) in the deck's series, and the series without them: radians and metres.
 *
 * A tone moves the deck at every place alike, and on a smooth floor that looks like a joint at each of its periods. So tones go out
 * before joints and bumps are looked for. A joint is a kick: where a row of them makes lines, it makes many, at all multiples of one
 * frequency, and those stay. Own method.
 */
import { fourthDifferenceVibration, solveSymmetric } from '../../numerics/index.js';
import type { NoisySeries } from '../deck/lens-path.js';
import type { RolledDeck } from '../deck/rolled-deck.js';
import type { DeckChannel } from '../deck/deck-transfer.js';
import type { MachineLine } from './machine-lines.js';
import type { FittedPass } from './pass-fit.js';

/** Keeps two lines that are nearly one from an endless answer. */
const RIDGE = 1e-6;
/** So many lines at multiples of one frequency are kicks. */
const FEWEST_OF_KICKS = 5;
/** A common frequency is looked for down to this part of the lowest line. */
const DEEPEST_PART = 4;
/** Lines that chance puts on multiples weigh so many times against a base. */
const CHANCE_COUNTS = 2;

/** The pass without tones, and what was taken off each series; null where nothing was. */
export interface QuietDeck {
  readonly deck: RolledDeck;
  readonly tones: Readonly<Partial<Record<DeckChannel, Float64Array>>>;
}

/**
 * Takes the tones out of a pass.
 *
 * @param deck not changed
 * @param fitted of this deck; its lines are the tones, unless they are a row of kicks
 */
export function withoutTones(deck: RolledDeck, fitted: FittedPass): QuietDeck {
  const binHz = deck.rateHz / deck.timeS.length;
  const lines = machineTones(fitted.masked.lines, binHz);
  if (lines.length === 0) return { deck, tones: {} };
  const tones: Partial<Record<DeckChannel, Float64Array>> = {};
  const quiet = (channel: DeckChannel, series: NoisySeries | null): NoisySeries | null => {
    const own = lines.filter((line) => line.channel === channel);
    if (series === null || own.length === 0) return series;
    const fast = fourthDifferenceVibration(series.values, deck.rateHz, deck.cutoffHz);
    const tone = tonesIn(
      fast,
      own.map(({ freqHz }) => freqHz),
      deck.rateHz,
    );
    tones[channel] = tone;
    return { ...series, values: series.values.map((value, i) => value - tone[i]) };
  };
  return {
    deck: {
      ...deck,
      pitchRad: quiet('pitch', deck.pitchRad),
      heaveM: quiet('heave', deck.heaveM),
      rollRad: quiet('roll', deck.rollRad),
    },
    tones,
  };
}

/** Puts the tones back, so that the fit can leave their bins out instead of finding them empty. */
export function withTones(deck: RolledDeck, { tones }: QuietDeck): RolledDeck {
  const loud = (series: NoisySeries | null, tone: Float64Array | undefined): NoisySeries | null =>
    series === null || tone === undefined
      ? series
      : { ...series, values: series.values.map((value, i) => value + tone[i]) };
  return {
    ...deck,
    pitchRad: loud(deck.pitchRad, tones.pitch),
    heaveM: loud(deck.heaveM, tones.heave),
    rollRad: loud(deck.rollRad, tones.roll),
  };
}

/** The lines that are no row of kicks. */
export function machineTones(lines: readonly MachineLine[], binHz: number): MachineLine[] {
  const frequencies = lines.map(({ freqHz }) => freqHz);
  let kicks: ReadonlySet<number> = new Set();
  let most = 0;
  for (const line of frequencies) {
    for (let part = 1; part <= DEEPEST_PART; part++) {
      const baseHz = line / part;
      const multiples = multiplesOf(baseHz, frequencies, binHz);
      // The lower the base, the more multiples are near to a line by chance.
      const beyondChance = multiples.size - (CHANCE_COUNTS * frequencies.length * 2 * binHz) / baseHz;
      if (beyondChance <= most) continue;
      most = beyondChance;
      kicks = multiples;
    }
  }
  return kicks.size < FEWEST_OF_KICKS ? [...lines] : lines.filter(({ freqHz }) => !kicks.has(freqHz));
}

/** Which frequencies are multiples of one, to a bin for each multiple that its own error grows by. */
function multiplesOf(baseHz: number, frequencies: readonly number[], binHz: number): Set<number> {
  // Below, every frequency is near to a multiple.
  if (baseHz < 4 * binHz) return new Set();
  return new Set(
    frequencies.filter((freqHz) => {
      const multiple = Math.round(freqHz / baseHz);
      return multiple >= 1 && Math.abs(freqHz - multiple * baseHz) <= binHz;
    }),
  );
}

/** The tones of a series at these frequencies, each free to swell and drift slowly: least squares over all of them together. */
function tonesIn(series: Float64Array, freqHz: readonly number[], rateHz: number): Float64Array {
  const columns = freqHz.flatMap((hz) => toneColumns(series.length, hz / rateHz));
  const count = columns.length;
  const normal = new Float64Array(count * count);
  const right = new Float64Array(count);
  columns.forEach((a, i) => {
    right[i] = dot(a, series);
    columns.forEach((b, j) => {
      if (j <= i) normal[i * count + j] = dot(a, b);
    });
    normal[i * count + i] *= 1 + RIDGE;
  });
  const weights = solveSymmetric(normal, right, count);
  return series.map((_, t) => columns.reduce((sum, column, i) => sum + weights[i] * column[t], 0));
}

/** Cosine and sine, each times the first Legendre polynomials over the pass. */
function toneColumns(n: number, cyclesPerFrame: number): Float64Array[] {
  const waves = [Math.cos, Math.sin];
  const swells = [
    () => 1,
    (x: number) => x,
    (x: number) => (3 * x ** 2 - 1) / 2,
    (x: number) => (5 * x ** 3 - 3 * x) / 2,
  ];
  return waves.flatMap((wave) =>
    swells.map((swell) =>
      Float64Array.from(
        { length: n },
        (_, t) => wave(2 * Math.PI * cyclesPerFrame * t) * swell((2 * t + 1) / n - 1),
      ),
    ),
  );
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i] * b[i];
  return sum;
}
