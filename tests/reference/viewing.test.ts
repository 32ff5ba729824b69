/** How large a pixel looks, against the viewing distances of the Recommendations; angles were computed apart from this code. */
import { describe, expect, it } from 'vitest';
import {
  arcMinutesPerLine,
  arcMinutesPerPx,
  screenLines,
  viewingDistanceHeights,
} from '../../src/stabilise/index.js';
import { workedCase } from '../support/worked-case.js';
import { expectWithin } from '../support/expect-within.js';

const DIGITS = { rel: 1e-8, why: 'ten digits are printed in the reference' };
const size = (widthPx: number, heightPx: number) => ({ widthPx, heightPx });
/** A picture watched from where its lines are made for. */
const asDesigned = (widthPx: number, heightPx: number) => ({
  ...size(widthPx, heightPx),
  viewingDistanceHeights: viewingDistanceHeights(size(widthPx, heightPx)),
});

describe('viewing angles', () => {
  // Source: plane geometry, atan(1 / (lines distance)). Case "viewing-angles".
  it('agrees on the angle of a line at every distance of the table', () => {
    const rows =
      workedCase<readonly { lines: number; D_over_H: number; px_arcmin: number }[]>(
        'viewing-angles',
      ).expected;
    expect(rows.length).toBe(9);
    for (const row of rows) {
      expectWithin(arcMinutesPerLine(row.lines, row.D_over_H), row.px_arcmin, DIGITS, `${row.lines} lines`);
    }
  });

  // Source: ITU-R BT.500 and BT.2022, design distances of 6 H (SD), 3 to 3.2 H (1080), 1.5 H (2160), 0.75 H (4320).
  it.each([
    [720, 576, 6],
    [1920, 1080, 3.1],
    [3840, 2160, 1.5],
    [7680, 4320, 0.75],
  ])('puts the viewer of %d x %d at %d picture heights', (widthPx, heightPx, heights) => {
    // 720 x 576 is narrower than 16:9: the screen has its 576 lines.
    expect(viewingDistanceHeights(size(widthPx, heightPx))).toBe(heights);
  });

  // Source: the same distances; "1 px is about 1 arcmin". Case "viewing-angles".
  it('makes a pixel of every standard delivery about a minute of arc', () => {
    expectWithin(arcMinutesPerPx(asDesigned(1920, 1080)), 1.026806054, DIGITS);
    expectWithin(arcMinutesPerPx(asDesigned(3840, 2160)), 1.06103292, DIGITS);
    expectWithin(arcMinutesPerPx(asDesigned(7680, 4320)), 1.06103292, DIGITS);
    expectWithin(arcMinutesPerPx(asDesigned(720, 576)), 0.9947183666, DIGITS);
  });

  // Source: plane geometry; the rows "1080 lines at 5.7 H: 0.5584" and "at 3.1 H: 1.0268" of case "viewing-angles".
  it('makes a pixel smaller for somebody who sits further away', () => {
    const from = (viewingDistanceHeights: number) =>
      arcMinutesPerPx({ ...size(1920, 1080), viewingDistanceHeights });
    expectWithin(from(5.7), 0.5584, { abs: 5e-5, why: 'the row is printed to four digits' });
    expectWithin(from(3.1), 1.0268, { abs: 5e-5, why: 'the row is printed to four digits' });
    expectWithin(from(6.2), from(3.1) / 2, { rel: 1e-6, why: 'an angle this small is its own tangent' });
  });

  // Common practice, no source: a picture is shown as large as the screen allows, with bars.
  it('judges a wide picture by the width of the screen and a tall one by its height', () => {
    expect(screenLines(size(1920, 804))).toBe(1080);
    expect(arcMinutesPerPx(asDesigned(1920, 804))).toBe(arcMinutesPerPx(asDesigned(1920, 1080)));
    expect(screenLines(size(1080, 1920))).toBe(1920);
    expect(screenLines(size(1440, 1080))).toBe(1080);
  });

  // Own choice, no source: how distances between and beyond the standards are found.
  it('runs steadily from standard to standard, and keeps the seat beyond the last', () => {
    let before = viewingDistanceHeights(size(640, 360));
    expect(before).toBe(6);
    for (let heightPx = 400; heightPx <= 5000; heightPx += 23) {
      const heights = viewingDistanceHeights(size(heightPx, heightPx));
      expect(heights).toBeLessThanOrEqual(before);
      expect(before - heights).toBeLessThan(0.25);
      before = heights;
    }
    expect(before).toBe(0.75);
    // 720 lines: a minute of arc per line would be 4.77 H.
    expectWithin(viewingDistanceHeights(size(1280, 720)), 4.77, {
      rel: 0.02,
      why: 'half-way between two standards',
    });
  });
});
