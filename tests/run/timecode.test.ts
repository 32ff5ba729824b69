/** Timecode: the drop-frame identities of SMPTE ST 12-1 (counting rule from memory) and round trips. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  frameOfTimecode,
  nominalRate,
  parseFrameRate,
  labelAsCounted,
  parsePointS,
  supportsDropFrame,
  timecodeOf,
} from '../../src/run/index.js';
import { evenly } from '../support/evenly.js';

const RATES = ['24000/1001', '24/1', '25/1', '30000/1001', '30/1', '50/1', '60000/1001', '60/1'];

describe('timecode', () => {
  it.each([
    ['30000/1001', 1800, '00:01:00;02'],
    ['30000/1001', 17982, '00:10:00;00'],
    ['30000/1001', 107892, '01:00:00;00'],
    ['60000/1001', 3600, '00:01:00;04'],
    ['25/1', 25, '00:00:01:00'],
    ['24000/1001', 24 * 3600, '01:00:00:00'],
  ])('labels frame %s/%i as the standard counts it', (rate, frame, label) => {
    expect(timecodeOf(frame, parseFrameRate(rate), label.includes(';'))).toBe(label);
  });

  it('gives the frame back from its label over a whole day at every rate, drop-frame where it exists', () => {
    fc.assert(
      fc.property(fc.constantFrom(...RATES), evenly(0, 0.999999), fc.boolean(), (text, share, wantDrop) => {
        const rate = parseFrameRate(text);
        const drop = wantDrop && supportsDropFrame(rate);
        const nominal = nominalRate(rate);
        const perDay = 86400 * nominal - (drop ? (nominal / 15) * 1296 : 0);
        const frame = Math.floor(share * perDay);
        const label = timecodeOf(frame, rate, drop);
        expect(Number(label.slice(-2))).toBeLessThan(nominal);
        expect(frameOfTimecode(label, rate)).toBe(frame);
      }),
      { seed: 7, numRuns: 500 },
    );
  });

  it('wraps the hours at 24', () => {
    const rate = parseFrameRate('25/1');
    expect(timecodeOf(86400 * 25, rate, false)).toBe('00:00:00:00');
  });

  it('refuses a label that drop-frame counting skips and names the nearest', () => {
    expect(() => frameOfTimecode('00:01:00;00', parseFrameRate('30000/1001'))).toThrow(/00:01:00;02/);
  });

  it('refuses frames at or past the nominal rate', () => {
    expect(() => frameOfTimecode('00:00:00:25', parseFrameRate('25/1'))).toThrow(/00 to 24/);
  });

  it('reads the same in point written as timecode, frames and seconds', () => {
    const rate = parseFrameRate('25/1');
    expect(parsePointS('00:00:02:00', rate, null)).toBe(2);
    expect(parsePointS('50f', rate, null)).toBe(2);
    expect(parsePointS('2s', rate, null)).toBe(2);
    expect(parsePointS('10:00:02:00', rate, '10:00:00:00')).toBe(2);
  });

  it('counts a label with colons as the clip counts: an hour of drop-frame is 107892 frames, 108 less than by its digits', () => {
    const rate = parseFrameRate('30000/1001');
    const frames = (text: string): number =>
      Math.round((parsePointS(text, rate, '00:00:00;00') * 30000) / 1001);
    expect(frames('01:00:00:00')).toBe(107892);
    expect(frames('01:00:00;00')).toBe(107892);
    expect(() => parsePointS('00:01:00:00', rate, '00:00:00;00')).toThrow(/00:01:00;02/);
    expect(labelAsCounted(' 00:00:02:00 ', null)).toBe('00:00:02:00');
    expect(labelAsCounted('50f', '00:00:00;00')).toBe('50f');
  });

  it('keeps the exact fraction: a day at 24000/1001 lands on the right frame', () => {
    const rate = parseFrameRate('24000/1001');
    const frames = 24 * 86400;
    expect(parsePointS(`${frames}f`, rate, null)).toBe((frames * 1001) / 24000);
  });
});
