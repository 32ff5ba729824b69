/** Logs with stretches missing: what is left is compared as if nothing had happened, or it is said that too little is left. */
import { describe, expect, it } from 'vitest';
import { compareMotionLog, parseMotionLog, type LogComparison } from '../../src/motion/index.js';
import { expectWithin } from '../support/expect-within.js';
import { holedLog } from './support/holed-log.js';
import { madeUpComparison, type MadeUpShake } from './support/made-up-log.js';

type Holes = readonly (readonly [number, number])[];

function compare(shake: MadeUpShake, holesS: Holes): LogComparison {
  const { motion, log, exposureS } = madeUpComparison(shake);
  return compareMotionLog(motion, holedLog(log, holesS), exposureS);
}

/** The clip of 6 s runs from 1.37 s to 7.37 s of the log's clock. */
const SIX_SECONDS = { durationS: 6, biasDegPerS: 1 };

describe('a log with a gap', () => {
  it.each<[string, Holes, Omit<MadeUpShake, 'seed'>]>([
    ['0.1 s missing of 6 s', [[3.9, 4]], SIX_SECONDS],
    ['0.3 s missing of 6 s', [[3.9, 4.2]], SIX_SECONDS],
    ['1 s missing of 6 s', [[3.9, 4.9]], SIX_SECONDS],
    ['1.5 s missing of 6 s', [[3.9, 5.4]], SIX_SECONDS],
    [
      'two gaps',
      [
        [4, 4.1],
        [6, 6.1],
      ],
      {},
    ],
    ['noisy pictures', [[4, 4.3]], { videoNoiseDeg: 0.02 }],
    ['a slow log', [[4, 4.4]], { logRateHz: 30 }],
  ])('is aligned and raises no false alarm: %s', (_, holesS, shake) => {
    for (let seed = 1; seed <= 6; seed++) {
      const found = compare({ ...shake, seed }, holesS);
      expect(found.aligned, found.reason ?? '').toBe(true);
      expectWithin(found.offsetS ?? NaN, 1.37, { abs: 4 * (found.offsetSdS ?? NaN), why: 'its deviation' });
      for (const axis of Object.values(found.axes)) {
        expect(axis?.agrees).toBe(true);
        const [low, high] = axis?.gainCi95 ?? [NaN, NaN];
        // The interval of one gain, stretched to four deviations because so many are asked.
        expectWithin(axis?.gain ?? NaN, 1, { abs: high - low, why: 'four deviations' });
      }
      expect(found.clockRatio).toBeNull();
      expect(found.warnings.map(({ code }) => code)).toEqual(['motion-log-gap']);
    }
  });

  it('does not hide a log that does turn 6 % more', () => {
    const { motion, log, exposureS } = madeUpComparison({ seed: 1, ...SIX_SECONDS });
    const { pan, tilt, roll } = holedLog(log, [[3.9, 4.2]]).ratesRadPerS;
    const more = (column?: Float64Array): Float64Array => Float64Array.from(column ?? [], (v) => 1.06 * v);
    const holed = holedLog(log, [[3.9, 4.2]]);
    const found = compareMotionLog(
      motion,
      { ...holed, ratesRadPerS: { pan: more(pan), tilt: more(tilt), roll: more(roll) } },
      exposureS,
    );
    expect(Object.values(found.axes).map((axis) => axis?.agrees)).toEqual([false, false, false]);
  });

  it('may lie in the middle of a longer clip', () => {
    const found = compare({ seed: 2, durationS: 24 }, [[9, 18]]);
    expect(found.aligned, found.reason ?? '').toBe(true);
    expectWithin(found.offsetS ?? NaN, 1.37, { abs: 4 * (found.offsetSdS ?? NaN), why: 'its deviation' });
  });

  it('may take what is not needed: 3.4 s left of 6 s are enough', () => {
    expect(compare({ seed: 1, ...SIX_SECONDS }, [[3, 5.6]]).aligned).toBe(true);
  });

  it.each<[string, Holes, Omit<MadeUpShake, 'seed'>, RegExp]>([
    [
      '2.5 s left of 6 s',
      [[3, 6.5]],
      SIX_SECONDS,
      /gaps of the log leave 1\.\d s of the clip.*3\.0 s are needed/,
    ],
    [
      'dropouts every second',
      [2.5, 3.5, 4.5, 5.5, 6.5, 7.5, 8.5].map((s) => [s, s + 0.1] as const),
      {},
      /gaps of the log nowhere leave 4\.0 s of the clip in parts of 1\.3 s/,
    ],
    [
      'dropouts every second, and nothing else',
      Array.from({ length: 14 }, (_, k) => [k - 1, k - 0.9] as const),
      {},
      /gaps of the log nowhere leave 4\.0 s/,
    ],
  ])('that leaves too little is refused in plain words: %s', (_, holesS, shake, words) => {
    const found = compare({ seed: 1, ...shake }, holesS);
    expect(found.aligned).toBe(false);
    expect(found.reason).toMatch(words);
    expect(found.offsetS).toBeNull();
  });

  it('is not taken for another take', () => {
    for (let seed = 1; seed <= 5; seed++) {
      const { motion, exposureS } = madeUpComparison({ seed });
      const { log } = madeUpComparison({ seed: seed + 100 });
      const holed = holedLog(log, [
        [4, 5],
        [7, 8],
      ]);
      expect(compareMotionLog(motion, holed, exposureS).reason).toMatch(/agree too little/);
    }
  });

  it('of a slow recorder counts from three intervals on', () => {
    const rows = Array.from({ length: 60 }, (_, i) => (i / 30 + (i >= 30 ? 2 / 30 : 0)).toFixed(4));
    const { gaps } = parseMotionLog(['timeS,panDegPerS', ...rows.map((s) => `${s},0`)].join('\n'), 'a');
    expect(gaps).toEqual([{ fromS: 0.9667, toS: 1.0667 }]);
  });
});
