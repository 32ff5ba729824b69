import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../src/numerics/index.js';
import { correctionAt, turnOfFrame, type Corrections } from '../../src/stabilise/index.js';
import { expectWithin } from '../support/expect-within.js';

const ROUNDING = { abs: 1e-11, why: 'double rounding' };
const KNOTS = 3;

/** Corrections that follow one law of time, each column with a factor of its own. */
function corrections(timeS: Float64Array, law: (timeS: number) => number, withRows = true): Corrections {
  const column = (factor: number) => timeS.map((s) => factor * law(s));
  const ofRows = (factor: number) =>
    Float64Array.from(
      { length: KNOTS * timeS.length },
      (_, i) => (factor + (i % KNOTS)) * law(timeS[Math.floor(i / KNOTS)]),
    );
  return {
    vibration: { pan: column(1), tilt: column(2), roll: column(-3) },
    rows: withRows ? { knots: KNOTS, pan: ofRows(4), tilt: ofRows(5), roll: ofRows(6) } : null,
  };
}

function unevenTimes(n: number): Float64Array {
  const random = seededRandom(3);
  return Float64Array.from({ length: n }, (_, t) => 0.04 * t + 0.01 * random());
}

const quintic = (s: number) => 1 - 3 * s + 40 * s ** 2 - 5 * s ** 3 + 20 * s ** 4 - 11 * s ** 5;
const cubic = (s: number) => 1 - 3 * s + 40 * s ** 2 - 55 * s ** 3;

describe('the turn of a frame', () => {
  it('is that of its sample and of its own rows', () => {
    const turn = turnOfFrame(
      corrections(Float64Array.of(0, 1, 2), (s) => 1 + s),
      1,
    );
    expect(turn).toEqual({
      pan: 2,
      tilt: 4,
      roll: -6,
      rows: {
        knots: KNOTS,
        pan: Float64Array.of(8, 10, 12),
        tilt: Float64Array.of(10, 12, 14),
        roll: Float64Array.of(12, 14, 16),
      },
    });
    expect(turnOfFrame(corrections(Float64Array.of(0), Math.cos, false), 0).rows).toBeNull();
  });

  it('is refused where there is no sample', () => {
    const given = corrections(Float64Array.of(0, 1), Math.cos);
    for (const t of [-1, 2, 0.5, NaN]) expect(() => turnOfFrame(given, t)).toThrow(RangeError);
  });
});

describe('the turn at any time', () => {
  const times = unevenTimes(30);

  it('is the very sample at the time of a sample', () => {
    const given = corrections(times, Math.sin);
    times.forEach((s, t) => {
      expect(correctionAt(given, times, s)).toEqual(turnOfFrame(given, t));
    });
  });

  it('is held before the first and after the last sample', () => {
    const given = corrections(times, Math.sin);
    expect(correctionAt(given, times, times[0] - 1)).toEqual(turnOfFrame(given, 0));
    expect(correctionAt(given, times, times[29] + 1)).toEqual(turnOfFrame(given, 29));
  });

  it('follows a fifth-degree law between uneven samples, a third-degree one next to the ends', () => {
    for (let atS = times[0]; atS < times[29]; atS += 0.0037) {
      const inside = atS >= times[2] && atS <= times[27];
      const law = inside ? quintic : cubic;
      const turn = correctionAt(corrections(times, law), times, atS);
      expectWithin(turn.pan, law(atS), ROUNDING, 'pan');
      expectWithin(turn.tilt, 2 * law(atS), ROUNDING, 'tilt');
      expectWithin(turn.roll, -3 * law(atS), ROUNDING, 'roll');
      expectWithin(turn.rows?.roll[2] ?? NaN, 8 * law(atS), ROUNDING, 'last row of roll');
    }
  });

  it('keeps what it says of a vibration half-way between two samples', () => {
    const even = Float64Array.from({ length: 200 }, (_, t) => t / 25);
    for (const [freqHz, kept] of [
      [25 / 4, 0.95],
      [25 / 8, 0.999],
    ]) {
      let most = 0;
      const given = corrections(even, (s) => Math.sin(2 * Math.PI * freqHz * (s - 0.5 / 25)), false);
      for (let t = 50; t < 150; t++) most = Math.max(most, correctionAt(given, even, (t + 0.5) / 25).pan);
      expectWithin(most, kept, { abs: 0.001, why: 'digits of the statement' });
    }
  });

  it('is defined for the shortest clips', () => {
    for (const n of [1, 2, 3, 4, 5]) {
      const short = times.slice(0, n);
      const line = corrections(short, (s) => (n === 1 ? 7 : 2 + 3 * s));
      const atS = (short[0] + short[n - 1]) / 2;
      expectWithin(correctionAt(line, short, atS).pan, n === 1 ? 7 : 2 + 3 * atS, ROUNDING, `${n} samples`);
    }
  });

  it('is refused for times that do not go with the corrections', () => {
    const given = corrections(times, Math.sin);
    expect(() => correctionAt(given, times.subarray(1), 0.1)).toThrow(/timeS/);
    expect(() => correctionAt(given, times, NaN)).toThrow(/atS/);
    expect(() => correctionAt(corrections(new Float64Array(0), Math.sin), new Float64Array(0), 0)).toThrow(
      /timeS/,
    );
  });
});
