/** Template matching against a texture that is known at every fraction of a pixel. */
import { describe, expect, it } from 'vitest';
import type { SmoothPicture } from '../../src/vision/index.js';
import { cutTemplate } from '../../src/vision/affine-template.js';
import { TemplateMatcher } from '../../src/vision/template-match.js';
import { templateWindow } from '../../src/vision/template-window.js';
import { sampleWindow, isInside, type Placement } from '../../src/vision/window-samples.js';
import { AnalyticTexture, type Placement as TexturePlacement } from '../tracking/support/analytic-texture.js';
import { expectWithin } from '../support/expect-within.js';

const SIZE = { widthPx: 200, heightPx: 160 };
const HALF_PX = 12;
const WINDOW = templateWindow({ halfPx: HALF_PX, rowStepPx: 1.5 });
const texture = new AnalyticTexture({ seed: 4, ...SIZE, finestPx: 7 });
const AT_REST: TexturePlacement = { shiftXPx: 0, shiftYPx: 0, turnRad: 0 };

function pictureAt(place: TexturePlacement): SmoothPicture {
  return { ...SIZE, levels: Float32Array.from(texture.picture(place)) };
}

/** A picture made of a formula. */
function pictureOf(level: (x: number, y: number) => number): SmoothPicture {
  const { widthPx, heightPx } = SIZE;
  const levels = Float32Array.from({ length: widthPx * heightPx }, (_, i) =>
    level(i % widthPx, Math.floor(i / widthPx)),
  );
  return { widthPx, heightPx, levels };
}

const upright = (xPx: number, yPx: number): Placement => ({ xPx, yPx, xx: 1, xy: 0, yx: 0, yy: 1 });

describe('sampleWindow', () => {
  it('reproduces a parabola exactly at any place and deformation', () => {
    const level = (x: number, y: number): number =>
      20 + 0.004 * x * x - 0.003 * y * y + 0.002 * x * y + 0.1 * y;
    const place = { xPx: 80.37, yPx: 70.81, xx: 1.1, xy: -0.2, yx: 0.15, yy: 0.93 };
    const out = new Float64Array(15);
    sampleWindow(pictureOf(level), place, templateWindow({ halfPx: 2, rowStepPx: 1.5 }), out);
    for (let row = 0; row < 3; row++) {
      const v = 1.5 * (row - 1);
      for (let u = -2; u <= 2; u++) {
        const x = place.xPx + place.xx * u + place.xy * v;
        const y = place.yPx + place.yx * u + place.yy * v;
        const expected = level(x, y);
        expectWithin(out[row * 5 + u + 2], expected, {
          abs: 1e-4,
          why: 'single precision of the levels',
        });
      }
    }
  });

  it('knows where its pixels end', () => {
    const picture = pictureAt(AT_REST);
    expect(isInside(picture, upright(13, 13), HALF_PX)).toBe(true);
    expect(isInside(picture, upright(12.9, 50), HALF_PX)).toBe(false);
    expect(isInside(picture, upright(SIZE.widthPx - 15, 50), HALF_PX)).toBe(true);
    expect(isInside(picture, upright(SIZE.widthPx - 13.9, 50), HALF_PX)).toBe(false);
    expect(isInside(picture, { ...upright(14, 50), xx: 1.2 }, HALF_PX)).toBe(false);
    expect(isInside(picture, upright(NaN, 50), HALF_PX)).toBe(false);
  });
});

describe('a template', () => {
  const first = pictureAt(AT_REST);
  const points = [
    [60.31, 52.87],
    [101.5, 80.02],
    [139.9, 95.44],
    [75.77, 110.12],
  ] as const;

  it.each([
    ['a shift', { shiftXPx: 0.43, shiftYPx: -0.61, turnRad: 0 }],
    ['a change of scale', { ...AT_REST, scale: 1.06 }],
    ['a turn', { ...AT_REST, turnRad: 0.06 }],
    ['less light and a veil', { ...AT_REST, shiftXPx: 0.3, gain: 0.7, offsetGrey: 15 }],
    ['all of them', { shiftXPx: 0.3, shiftYPx: 0.2, turnRad: -0.04, scale: 0.95, gain: 1.2, offsetGrey: -9 }],
  ])('is found again after %s, place and deformation', (_, moved: TexturePlacement) => {
    const later = pictureAt(moved);
    const matcher = new TemplateMatcher(WINDOW);
    for (const [x, y] of points) {
      const template = cutTemplate(first, x, y, WINDOW)!;
      const [expectedX, expectedY] = texture.follow(AT_REST, moved, x, y);
      const place = upright(expectedX + 0.4, expectedY - 0.3);
      const { found, residualGrey } = matcher.match(later, template, place);
      expect(found).toBe(true);
      // Cubic convolution of waves from 7 px on and levels rounded to whole numbers: measured 0.012 px at worst.
      expectWithin(place.xPx, expectedX, { abs: 0.02 }, 'x');
      expectWithin(place.yPx, expectedY, { abs: 0.02 }, 'y');
      const { scale = 1, turnRad } = moved;
      expectWithin(place.xx, scale * Math.cos(turnRad), { abs: 0.005 }, 'stretch');
      expectWithin(place.yx, scale * Math.sin(turnRad), { abs: 0.005 }, 'turn');
      expect(residualGrey).toBeLessThan(1);
    }
  });

  it('leaves a large residual in a picture that does not hold it', () => {
    const other = new AnalyticTexture({ seed: 5, ...SIZE, finestPx: 7 }).picture(AT_REST);
    const template = cutTemplate(first, 100.2, 80.4, WINDOW)!;
    const match = new TemplateMatcher(WINDOW).match(
      { ...SIZE, levels: Float32Array.from(other) },
      template,
      upright(100.2, 80.4),
    );
    expect(match.found && match.residualGrey < 0.45 * template.contrastGrey).toBe(false);
  });

  it('is not cut where the window leaves the picture, and is lost when it gets there', () => {
    expect(cutTemplate(first, 13.4, 80, WINDOW)).toBeNull();
    const template = cutTemplate(first, 14, 80, WINDOW)!;
    const moved = { ...AT_REST, shiftXPx: -2 };
    const match = new TemplateMatcher(WINDOW).match(pictureAt(moved), template, upright(12, 80));
    expect(match.found).toBe(false);
  });

  it('is lost, not followed to nowhere, on a picture without texture', () => {
    const template = cutTemplate(first, 100.2, 80.4, WINDOW)!;
    const flat = pictureOf(() => 90);
    expect(new TemplateMatcher(WINDOW).match(flat, template, upright(100, 80)).found).toBe(false);
    // A template without texture has nothing to be found by; its match must stay finite.
    const blank = cutTemplate(flat, 100, 80, WINDOW)!;
    const place = upright(100, 80);
    expect(new TemplateMatcher(WINDOW).match(flat, blank, place).found).toBe(true);
    expectWithin(place.xPx, 100, { abs: 1e-6, why: 'rounding' });
  });

  it('gives the same match whatever was matched before', () => {
    const later = pictureAt({ ...AT_REST, shiftXPx: 0.4, scale: 1.02 });
    const template = cutTemplate(first, 100.2, 80.4, WINDOW)!;
    const used = new TemplateMatcher(WINDOW);
    used.match(later, cutTemplate(first, 60, 60, WINDOW)!, upright(60, 60));
    const [a, b] = [upright(100, 80), upright(100, 80)];
    expect(used.match(later, template, a)).toEqual(new TemplateMatcher(WINDOW).match(later, template, b));
    expect(a).toEqual(b);
  });
});
