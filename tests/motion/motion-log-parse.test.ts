/** Motion logs as text: what is read, and how each fault is told with its line. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseMotionLog } from '../../src/motion/index.js';
import { TrundleError } from '../../src/run/index.js';
import { evenly } from '../support/evenly.js';

const HEADER = 'timeS,panDegPerS,tiltDegPerS,rollDegPerS';

/** Lines at 100 samples a second. */
function lines(count: number, values = '0.1,-0.2,0.3'): string[] {
  return Array.from({ length: count }, (_, i) => `${(i / 100).toFixed(2)},${values}`);
}

function refusal(text: string): TrundleError {
  try {
    parseMotionLog(text, 'head.csv');
  } catch (error) {
    expect(error).toBeInstanceOf(TrundleError);
    return error as TrundleError;
  }
  throw new Error('nothing was refused');
}

describe('a motion log', () => {
  it('gives time stamps in seconds and rates in rad/s', () => {
    const log = parseMotionLog([HEADER, ...lines(30)].join('\n'), 'head.csv');
    expect(log.timeS).toHaveLength(30);
    expect(log.rateHz).toBeCloseTo(100, 6);
    expect(log.ratesRadPerS.pan?.[4]).toBe(0.1 * (Math.PI / 180));
    expect(log.ratesRadPerS.tilt?.[4]).toBe(-0.2 * (Math.PI / 180));
    expect(log.gaps).toEqual([]);
  });

  it('may come with comments, blank lines, CRLF, a byte order mark, quotes, rad/s and missing axes', () => {
    const text = [
      '# recorded on the head',
      '',
      '"rollRadPerS", "timeS"',
      ...Array.from(
        { length: 25 },
        (_, i) => `${i === 3 ? '1e-3' : '.5'} , ${i / 50}${i === 7 ? '\r\n# tea' : ''}`,
      ),
    ].join('\r\n');
    const log = parseMotionLog(`\uFEFF${text}\r\n`, 'head.csv');
    expect(Object.keys(log.ratesRadPerS)).toEqual(['roll']);
    expect(log.ratesRadPerS.roll?.[3]).toBe(1e-3);
    expect(log.ratesRadPerS.roll?.[4]).toBe(0.5);
  });

  it('reads semicolons with decimal commas when the header has semicolons', () => {
    const rows = Array.from({ length: 25 }, (_, i) => `${String(i / 50).replace('.', ',')};-0,25`);
    const log = parseMotionLog(['timeS;panRadPerS', ...rows].join('\n'), 'head.csv');
    expect(log.timeS[1]).toBe(0.02);
    expect(log.ratesRadPerS.pan?.[0]).toBe(-0.25);
  });

  it('comes back as it was written', () => {
    const rate = evenly(-500, 500);
    const rows = fc.array(fc.tuple(fc.integer({ min: 1, max: 90 }), rate, rate), {
      minLength: 20,
      maxLength: 60,
    });
    fc.assert(
      fc.property(
        rows,
        fc.constantFrom(',', ';', ' , '),
        fc.constantFrom('\n', '\r\n'),
        (given, comma, end) => {
          let timeS = -3;
          const stamps = given.map(([ms]) => (timeS += ms / 1000));
          const text = [
            ['timeS', 'panRadPerS', 'rollRadPerS'].join(comma),
            ...given.map(([, pan, roll], i) => [stamps[i], pan, roll].join(comma)),
          ].join(end);
          const log = parseMotionLog(text, 'head.csv');
          expect(Array.from(log.timeS)).toEqual(stamps);
          // A factor of 1 may turn -0 into 0 and nothing else.
          expect(Array.from(log.ratesRadPerS.pan ?? [], (v) => v + 0)).toEqual(given.map(([, v]) => v + 0));
          expect(Array.from(log.ratesRadPerS.roll ?? [], (v) => v + 0)).toEqual(
            given.map(([, , v]) => v + 0),
          );
        },
      ),
      { numRuns: 50, seed: 7 },
    );
  });

  it('tells of gaps longer than five samples, and only of those', () => {
    const stamps = Array.from(
      { length: 60 },
      (_, i) => i / 100 + (i >= 20 ? 0.04 : 0) + (i >= 40 ? 0.06 : 0),
    );
    const log = parseMotionLog(
      ['timeS,panDegPerS', ...stamps.map((s) => `${s.toFixed(2)},0`)].join('\n'),
      'a',
    );
    expect(log.gaps).toEqual([{ fromS: 0.43, toS: 0.5 }]);
  });

  it.each<[string, string, RegExp]>([
    ['an empty file', '', /is empty.*timeS,panDegPerS/],
    ['comments alone', '# a\n\n# b\n', /is empty/],
    ['no header', '0,1,2,3\n0.01,1,2,3', /line 1: a header must name the columns/],
    [
      'an unknown column',
      'timeS,panDegS',
      /line 1: there is no column "panDegS"; the nearest is "panDegPerS"/,
    ],
    ['a column in another case', 'times,panDegPerS', /no column "times"; the nearest is "timeS"/],
    ['no time', 'panDegPerS,tiltDegPerS', /"timeS" is missing/],
    ['time alone', 'timeS', /at least one rate/],
    [
      'an axis in two units',
      'timeS,panDegPerS,panRadPerS',
      /"panDegPerS" and "panRadPerS" hold the same thing/,
    ],
    ['time twice', 'timeS,timeS,panDegPerS', /"timeS" and "timeS" hold the same thing/],
    [
      'text for a number',
      [HEADER, ...lines(15), '0.15,n/a,0,0'].join('\n'),
      /line 17: panDegPerS is not a number: "n\/a"\./,
    ],
    ['not a number', [HEADER, '0,0,NaN,0'].join('\n'), /line 2: tiltDegPerS is not a number: "NaN"/],
    ['a number too large', [HEADER, '0,0,1e999,0'].join('\n'), /line 2: tiltDegPerS is not a number/],
    ['hexadecimal', [HEADER, '0,0,0x10,0'].join('\n'), /line 2: tiltDegPerS is not a number/],
    ['an empty value', [HEADER, '0,0,,0'].join('\n'), /line 2: tiltDegPerS is empty/],
    [
      'a value too few',
      [HEADER, '# x', '0,0,0'].join('\n'),
      /line 3: it has 3 values where the header names 4 columns/,
    ],
    ['a decimal comma', [HEADER, '0,01,0,0,0'].join('\n'), /line 2: it has 5 values/],
    [
      'a stamp twice',
      [HEADER, ...lines(5), '0.04,0,0,0'].join('\n'),
      /line 7: the time stamp 0.04 s stands twice/,
    ],
    [
      'time that goes back',
      [HEADER, ...lines(5), '0.02,0,0,0'].join('\n'),
      /line 7: the time goes back from 0.04 s to 0.02 s/,
    ],
    ['too few samples', [HEADER, ...lines(19)].join('\n'), /19 samples are too few/],
    ['no samples', HEADER, /0 samples are too few/],
    [
      'too slow a rate',
      ['timeS,panDegPerS', ...Array.from({ length: 40 }, (_, i) => `${i / 8},0`)].join('\n'),
      /8 samples a second are too slow, at least 10/,
    ],
    [
      'milliseconds for seconds',
      ['timeS,panDegPerS', ...Array.from({ length: 40 }, (_, i) => `${5 * i},0`)].join('\n'),
      /0\.2 samples a second are too slow.*timeS counts in seconds/,
    ],
  ])('with %s is refused in one sentence', (_, text, sentence) => {
    const { code, message, exitStatus } = refusal(text);
    expect(code).toBe('motion-log-invalid');
    expect(exitStatus).toBe(2);
    expect(message).toContain('"head.csv"');
    expect(message).toMatch(sentence);
  });

  it('never fails in any other way, whatever the text', () => {
    const cell = fc.constantFrom('timeS', 'panDegPerS', '1', '-2.5', '', 'x', '#', '"', ';', '\u0000', '1e3');
    const text = fc.array(
      fc.array(cell, { maxLength: 5 }).map((c) => c.join(',')),
      { maxLength: 8 },
    );
    fc.assert(
      fc.property(text, (rows) => {
        expect(refusal(['timeS,panDegPerS', ...rows].join('\n')).code).toBe('motion-log-invalid');
      }),
      { numRuns: 200, seed: 3 },
    );
  });
});
