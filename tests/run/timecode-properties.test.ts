/**
 * Timecode over a whole day. SMPTE ST 12-1, drop-frame: labels 00 and 01 (at 29.97; 00 to 03 at 59.94) of every minute are not used, the
 * tens of minutes excepted; so 17982 frames per ten minutes and 107892 per hour at 29.97, and 2589408 labels per day.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  TrundleError,
  frameOfTimecode,
  labelAsCounted,
  nominalRate,
  parseFrameRate,
  parsePointS,
  supportsDropFrame,
  timecodeOf,
  type FrameRate,
} from '../../src/run/index.js';
import { evenly } from '../support/evenly.js';

/** Each counting with the labels of a day, from the standard. */
const COUNTINGS: readonly (readonly [rate: string, drop: boolean, perDay: number])[] = [
  ['24000/1001', false, 24 * 86_400],
  ['24/1', false, 24 * 86_400],
  ['25/1', false, 25 * 86_400],
  ['30000/1001', false, 30 * 86_400],
  ['30000/1001', true, 2_589_408],
  ['30/1', false, 30 * 86_400],
  ['50/1', false, 50 * 86_400],
  ['60000/1001', false, 60 * 86_400],
  ['60000/1001', true, 2 * 2_589_408],
  ['60/1', false, 60 * 86_400],
  ['120/1', false, 120 * 86_400],
];

/** Up to a hair below all of it. */
const share = evenly(0, 1 - 2 ** -30);
const counting = fc
  .constantFrom(...COUNTINGS)
  .map(([text, drop, perDay]) => ({ rate: parseFrameRate(text), drop, perDay }));

/** A frame of the day: anywhere, or within a few frames of a minute or of midnight, where the counting jumps. */
const frameOfDay = counting.chain(({ rate, drop, perDay }) => {
  const perTen = (perDay / (24 * 6)) | 0;
  return fc
    .oneof(
      share.map((part) => Math.floor(part * perDay)),
      fc
        .tuple(
          fc.integer({ min: 0, max: 143 }),
          fc.integer({ min: 0, max: 9 }),
          fc.integer({ min: -9, max: 9 }),
        )
        .map(([tens, minute, aside]) => tens * perTen + Math.floor((minute * perTen) / 10) + aside),
    )
    .map((frame) => ({ rate, drop, perDay, frame: ((frame % perDay) + perDay) % perDay }));
});

const bare = (label: string): string => label.replace(/[:;]/g, '');

describe.each(COUNTINGS)('timecode at %s, drop-frame %s', (text, drop, perDay) => {
  const rate = parseFrameRate(text);

  it('has the labels of the standard: a day, an hour and ten minutes end where they should', () => {
    expect(supportsDropFrame(rate) || !drop).toBe(true);
    const [first, last] = [0, perDay - 1].map((frame) => timecodeOf(frame, rate, drop));
    expect(bare(first)).toMatch(/^0+$/);
    expect(bare(last)).toBe(`235959${nominalRate(rate) - 1}`);
    expect(timecodeOf(perDay, rate, drop)).toBe(first);
    expect(bare(timecodeOf(perDay / 24, rate, drop)).slice(0, 6)).toBe('010000');
    expect(bare(timecodeOf(perDay / 24 / 6, rate, drop)).slice(0, 6)).toBe('001000');
  });
});

describe('drop-frame counting', () => {
  it.each([
    ['30000/1001', 17_982, 107_892, 2_589_408, 2],
    ['60000/1001', 35_964, 215_784, 5_178_816, 4],
  ])(
    'at %s skips its labels in every minute but the tens, all day',
    (text, perTen, perHour, perDay, skipped) => {
      const rate = parseFrameRate(text);
      const nominal = nominalRate(rate);
      const two = (value: number): string => String(value).padStart(2, '0');
      expect(frameOfTimecode('00:10:00;00', rate)).toBe(perTen);
      expect(frameOfTimecode('01:00:00;00', rate)).toBe(perHour);
      expect(frameOfTimecode(`23:59:59;${nominal - 1}`, rate)).toBe(perDay - 1);
      for (let minute = 1; minute < 24 * 60; minute++) {
        const [hours, minutes] = [Math.floor(minute / 60), minute % 60];
        const head = `${two(hours)}:${two(minutes)}:00`;
        const firstKept = minutes % 10 === 0 ? 0 : skipped;
        const kept = frameOfTimecode(`${head};${two(firstKept)}`, rate);
        expect(timecodeOf(kept, rate, true)).toBe(`${head};${two(firstKept)}`);
        const before = `${two(Math.floor((minute - 1) / 60))}:${two((minute - 1) % 60)}:59;${nominal - 1}`;
        expect(timecodeOf(kept - 1, rate, true)).toBe(before);
        for (let label = 0; label < firstKept; label++)
          expect(() => frameOfTimecode(`${head};${two(label)}`, rate)).toThrow(
            `the nearest is ${head};${two(skipped)}.`,
          );
      }
    },
  );
});

describe('frames and their labels', () => {
  it('give each other back over the day, at every rate', () => {
    fc.assert(
      fc.property(frameOfDay, ({ rate, drop, frame }) => {
        const label = timecodeOf(frame, rate, drop);
        expect(label).toMatch(drop ? /^\d\d:\d\d:\d\d;\d\d$/ : /^\d\d:\d\d:\d\d:\d\d\d?$/);
        expect(frameOfTimecode(label, rate)).toBe(frame);
      }),
      { seed: 51, numRuns: 1500 },
    );
  });

  it('go the same way: a later frame of the day has a later label', () => {
    // Labels of one counting have equally many figures but at rates over 100, where the frames need their own comparison.
    const order = (label: string): number => {
      const [hours, minutes, seconds, frames] = label.split(/[:;]/).map(Number) as [
        number,
        number,
        number,
        number,
      ];
      return ((hours * 60 + minutes) * 60 + seconds) * 1000 + frames;
    };
    fc.assert(
      fc.property(frameOfDay, share, ({ rate, drop, perDay, frame }, part) => {
        const next = Math.min(perDay - 1, frame + 1);
        const later = Math.floor(next + part * (perDay - 1 - next));
        const at = order(timecodeOf(frame, rate, drop));
        if (next > frame) expect(order(timecodeOf(next, rate, drop))).toBeGreaterThan(at);
        if (later > frame) expect(order(timecodeOf(later, rate, drop))).toBeGreaterThan(at);
      }),
      { seed: 52, numRuns: 500 },
    );
  });

  it('begin again after any number of days, forwards and backwards', () => {
    fc.assert(
      fc.property(frameOfDay, fc.integer({ min: -3, max: 3 }), ({ rate, drop, perDay, frame }, days) => {
        expect(timecodeOf(frame + days * perDay, rate, drop)).toBe(timecodeOf(frame, rate, drop));
      }),
      { seed: 53, numRuns: 300 },
    );
  });
});

describe('whatever is typed as a label', () => {
  it('is a frame of the day or one of our refusals', () => {
    const part = fc.oneof(
      fc.integer({ min: 0, max: 130 }).map((value) => String(value).padStart(2, '0')),
      fc.constantFrom('', '-1', '٣٣', '1e1', ' 1'),
    );
    const mark = fc.constantFrom(':', ';', '.', ',', '::');
    const label = fc.oneof(
      fc.tuple(part, mark, part, mark, part, mark, part).map((parts) => parts.join('')),
      fc.tuple(part, part, part, mark, part).map(([h, m, s, sep, f]) => `${h}:${m}:${s}${sep}${f}`),
      fc.string({ maxLength: 20 }),
    );
    fc.assert(
      fc.property(counting, label, ({ rate }, text) => {
        try {
          const frame = frameOfTimecode(text, rate);
          expect(Number.isInteger(frame) && frame >= 0 && frame < nominalRate(rate) * 86_400).toBe(true);
        } catch (error) {
          if (!(error instanceof TrundleError)) throw error;
          expect(error.code).toBe('argument-invalid');
        }
      }),
      { seed: 54, numRuns: 1500 },
    );
  });
});

describe('in and out points', () => {
  const secondsOf = (frames: number, { numerator, denominator }: FrameRate): number =>
    (frames * denominator) / numerator;

  it('mean the same range as frames, as timecode in any marks, and as seconds', () => {
    fc.assert(
      fc.property(
        frameOfDay,
        fc.tuple(fc.nat(200_000), fc.nat(20_000)),
        fc.constantFrom(':', ';', '.'),
        ({ rate, drop, perDay, frame }, [inFrame, length], mark) => {
          // The start leaves room for the range: after midnight labels begin anew.
          const start = Math.max(0, Math.min(frame, perDay - 1 - inFrame - length));
          const timecodeStart = timecodeOf(start, rate, drop);
          for (const point of [inFrame, inFrame + length]) {
            const at = secondsOf(point, rate);
            const label = timecodeOf(start + point, rate, drop).replace(/[:;](\d+)$/, `${mark}$1`);
            // A start that is typed exactly lies at the head, whatever the marks.
            expect(parsePointS(label, rate, timecodeStart)).toBeCloseTo(at, 9);
            expect(parsePointS(`${point}f`, rate, timecodeStart)).toBeCloseTo(at, 9);
            expect(parsePointS(`${at.toFixed(9)} s`, rate, timecodeStart)).toBeCloseTo(at, 8);
          }
        },
      ),
      { seed: 55, numRuns: 500 },
    );
  });

  it('are counted as the clip counts, and otherwise left as they were typed', () => {
    fc.assert(
      fc.property(frameOfDay, fc.string({ maxLength: 12 }), ({ rate, drop, frame }, text) => {
        const label = timecodeOf(frame, rate, drop);
        for (const mark of [':', ';', '.'])
          expect(labelAsCounted(label.replace(/[:;](\d+)$/, `${mark}$1`), label)).toBe(label);
        if (!/^\d{1,2}:\d\d:\d\d[:;.]\d{2,3}$/.test(text.trim()))
          expect(labelAsCounted(text, label)).toBe(text.trim());
      }),
      { seed: 56, numRuns: 300 },
    );
  });
});
