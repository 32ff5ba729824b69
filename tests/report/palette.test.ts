import { describe, expect, it } from 'vitest';
import { DARK_COLOURS, LIGHT_COLOURS } from '../../src/report/charts/index.js';

type Rgb = readonly [number, number, number];

function palette(css: string): (name: string) => Rgb {
  const colours = new Map(
    [...css.matchAll(/--([\w-]+):#([0-9a-f]{3,6})/g)].map(([, name, hex]) => [name, hex]),
  );
  return (name) => {
    const hex = colours.get(name) ?? '';
    const full = hex.length === 3 ? [...hex].map((c) => c + c).join('') : hex;
    expect(full, name).toHaveLength(6);
    return [0, 2, 4].map((i) => linear(parseInt(full.slice(i, i + 2), 16) / 255)) as unknown as Rgb;
  };
}

/** sRGB to linear light (IEC 61966-2-1). */
function linear(v: number): number {
  return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4;
}

function luminance([r, g, b]: Rgb): number {
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

/** Contrast of WCAG 2.2. */
function contrast(a: Rgb, b: Rgb): number {
  const [low, high] = [luminance(a), luminance(b)].sort((x, y) => x - y);
  return (high + 0.05) / (low + 0.05);
}

/** Full colour deficiencies: Machado, Oliveira, Fernandes 2009, severity 1.0, on linear light; figures from memory. */
const DEFICIENCIES = {
  protan: [0.152286, 1.052583, -0.204868, 0.114503, 0.786281, 0.099216, -0.003882, -0.048116, 1.051998],
  deutan: [0.367322, 0.860646, -0.227968, 0.280085, 0.672501, 0.047413, -0.01182, 0.04294, 0.968881],
  tritan: [1.255528, -0.076749, -0.178779, -0.078411, 0.930809, 0.147602, 0.004733, 0.691367, 0.3039],
};

function seen([r, g, b]: Rgb, m: readonly number[]): Rgb {
  return [0, 3, 6].map((i) =>
    Math.min(1, Math.max(0, m[i] * r + m[i + 1] * g + m[i + 2] * b)),
  ) as unknown as Rgb;
}

/** CIE L*a*b* from linear sRGB, D65. */
function lab([r, g, b]: Rgb): Rgb {
  const f = (t: number): number => (t > 0.008856 ? Math.cbrt(t) : 7.787 * t + 16 / 116);
  const x = f((0.4124 * r + 0.3576 * g + 0.1805 * b) / 0.9505);
  const y = f(0.2126 * r + 0.7152 * g + 0.0722 * b);
  const z = f((0.0193 * r + 0.1192 * g + 0.9505 * b) / 1.089);
  return [116 * y - 16, 500 * (x - y), 200 * (y - z)];
}

function difference(a: Rgb, b: Rgb): number {
  const [p, q] = [lab(a), lab(b)];
  return Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]);
}

describe.each([
  ['light', LIGHT_COLOURS],
  ['dark', DARK_COLOURS],
])('the %s palette', (_, css) => {
  const colour = palette(css);

  it.each(['ink', 'muted', 'pass', 'marginal', 'fail', 'unmeasurable'])(
    'has text contrast for %s on sheet and well',
    (name) => {
      expect(contrast(colour(name), colour('sheet'))).toBeGreaterThan(4.5);
      if (name === 'ink' || name === 'muted')
        expect(contrast(colour(name), colour('well'))).toBeGreaterThan(4.5);
    },
  );

  it.each(['angular', 'translational', 'limit'])('has graphics contrast for %s on the sheet', (name) => {
    expect(contrast(colour(name), colour('sheet'))).toBeGreaterThan(3);
  });

  it.each(Object.entries(DEFICIENCIES))('keeps angular and translational apart for %s eyes', (__, matrix) => {
    // 20 is far above the 2 to 3 that side-by-side patches need, since thin lines are compared from memory.
    expect(
      difference(seen(colour('angular'), matrix), seen(colour('translational'), matrix)),
    ).toBeGreaterThan(20);
  });

  it('signs each badge with enough contrast', () => {
    for (const grade of ['pass', 'marginal', 'fail', 'unmeasurable'])
      expect(contrast(colour(grade), colour('on-badge'))).toBeGreaterThan(3);
  });
});
