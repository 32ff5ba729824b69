/** In and out as people type them on the page: texts, frames, labels, faults in sentences. */
import { describe, expect, test } from 'vitest';
import {
  framesOf,
  labelOf,
  pointText,
  readStretch,
  withPoint,
  type FrameBase,
} from '../../../src/web/stretch.js';

const at25: FrameBase = {
  fpsFraction: '25',
  timecodeStart: null,
  frameCount: 300,
  durationS: 12,
  variableRate: false,
};
/** Starts two seconds before the full hour, drop-frame. */
const dropFrame: FrameBase = {
  fpsFraction: '30000/1001',
  timecodeStart: '00:59:58;00',
  frameCount: 600,
  durationS: 20.02,
  variableRate: false,
};

describe('in and out as typed', () => {
  test('nothing typed is the whole clip', () => {
    expect(readStretch({}, at25)).toEqual({
      inFrame: 0,
      outFrame: 300,
      inFault: null,
      outFault: null,
      tooShort: null,
      note: null,
    });
  });

  test('timecode, frames and seconds mean the same frame', () => {
    for (const text of ['00:00:02:00', '50f', '50 frames', '2s', '2', ' 2.0 s '])
      expect(readStretch({ in: text }, at25).inFrame, text).toBe(50);
  });

  test('a timecode counts from the start label of the clip', () => {
    const source: FrameBase = { ...at25, timecodeStart: '10:00:00:00' };
    expect(readStretch({ in: '10:00:02:00', out: '10:00:08:12' }, source)).toMatchObject({
      inFrame: 50,
      outFrame: 212,
    });
    expect(labelOf(50, source)).toBe('10:00:02:00');
  });

  // ST 12-1: labels ;00 and ;01 are skipped at each minute but each tenth; the full hour is a tenth minute, so none is skipped here.
  test('a drop-frame clip is labelled with a semicolon, and colons only are taken for its own labels', () => {
    expect(labelOf(60, dropFrame)).toBe('01:00:00;00');
    expect(readStretch({ in: '01:00:00:00' }, dropFrame).inFrame).toBe(60);
    expect(readStretch({ in: '01:00:00;00' }, dropFrame).inFrame).toBe(60);
  });

  test('a label that drop-frame counting skips is refused with the nearest', () => {
    expect(readStretch({ in: '01:01:00;00' }, dropFrame).inFault).toBe(
      '"01:01:00;00" does not exist in drop-frame counting; the nearest is 01:01:00;02.',
    );
  });

  test('what cannot be read is told at its own field', () => {
    const { inFault, outFault, outFrame } = readStretch({ in: '2s', out: 'soon' }, at25);
    expect(inFault).toBeNull();
    expect(outFault).toBe('"soon" is not a point in the clip; write it like 00:00:02:00, 50f or 2.5s.');
    expect(outFrame).toBe(300);
  });

  test('in at the end of the clip and out before in are refused', () => {
    expect(readStretch({ in: '12s' }, at25).inFault).toContain('the clip is 12.00 s long');
    expect(readStretch({ in: '8s', out: '3s' }, at25).outFault).toContain('after the in point');
    expect(readStretch({ in: '8s', out: '8s' }, at25).outFault).toContain('after the in point');
  });

  test('an out point beyond the end is the end, and that is said', () => {
    expect(readStretch({ out: '30s' }, at25)).toMatchObject({
      outFrame: 300,
      outFault: null,
      note: 'The clip ends after 12.00 s: that is taken as the out point.',
    });
  });

  test('fewer than 25 frames are told to be too short; slow shake is told to be left out below 3.75 s', () => {
    expect(readStretch({ in: '1s', out: '49f' }, at25).tooShort).toContain('24 frames; 25 are the least');
    expect(readStretch({ in: '1s', out: '50f' }, at25).tooShort).toBeNull();
    // Three periods in 2 s are 1.5 Hz.
    expect(readStretch({ in: '1s', out: '3s' }, at25).note).toContain('slower than 1.5 times a second');
    expect(readStretch({ in: '1s', out: '5s' }, at25).note).toBeNull();
  });
});

test('a point that is emptied goes, the other stays', () => {
  expect(withPoint({ in: '2s', out: '9s' }, 'in', '')).toEqual({ out: '9s' });
  expect(withPoint({ in: '2s' }, 'out', '9s')).toEqual({ in: '2s', out: '9s' });
  expect(withPoint({ in: '2s' }, 'in', '3s')).toEqual({ in: '3s' });
});

describe('frames and labels', () => {
  test('a varying rate has as many frames as points can be counted by', () => {
    expect(framesOf({ ...at25, variableRate: true, frameCount: 280 })).toBe(300);
    expect(framesOf({ ...at25, frameCount: 0 })).toBe(300);
    expect(framesOf(at25)).toBe(300);
  });

  test('a written point is read as the frame it was written for', () => {
    for (const base of [at25, dropFrame])
      for (const frame of [1, 59, 60, 61, 299])
        expect(readStretch({ in: pointText(frame, base) }, base).inFrame).toBe(frame);
  });

  test('past midnight a label would be taken from the head, so the frame number is written', () => {
    const midnight: FrameBase = { ...at25, timecodeStart: '23:59:58:00' };
    expect(labelOf(100, midnight)).toBe('00:00:02:00');
    expect(pointText(100, midnight)).toBe('100f');
    expect(readStretch({ in: '100f' }, midnight).inFrame).toBe(100);
  });

  test('keeps the handle of an in point beyond the clip at the end of the strip', () => {
    const base = {
      fpsFraction: '25/1',
      timecodeStart: null,
      frameCount: 150,
      durationS: 6,
      variableRate: false,
    };
    const { inFrame, inFault } = readStretch({ in: '7s' }, base);
    expect(inFrame).toBe(150);
    expect(inFault).toMatch(/at or beyond the end/);
  });
});
