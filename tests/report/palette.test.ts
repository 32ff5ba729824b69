import { describe, expect, it } from 'vitest';
import {
  CHART_STYLE,
  DARK_COLOURS,
  LIGHT_COLOURS,
  PRINT_COLOURS,
  shareBar,
  verdictBadge,
} from '../../src/report/charts/index.js';
import { expectWithin } from '../support/expect-within.js';
import {
  ciede2000,
  contrast,
  DEFICIENCY_NAMES,
  fromHex,
  labOf,
  seenBy,
  type Linear,
} from './support/colour-vision.js';

/** Colours of the lines and areas that a chart may hold side by side. */
const SERIES = ['angular', 'translational', 'ink'] as const;
const PAIRS = SERIES.flatMap((a, i) => SERIES.slice(i + 1).map((b) => [a, b] as const));

/** CIEDE2000 of 2 is just seen between patches that touch; thin lines apart from each other need several times that. */
const APART = 12;

/** L* between greys that a black-and-white printer and its reader keep apart: a sixth of the way from black to white. */
const GREY_APART = 16;

function palette(css: string): (name: string) => Linear {
  const colours = new Map(
    [...css.matchAll(/--([\w-]+):#([0-9a-f]{3,6})/g)].map(([, name, hex]) => [name, hex]),
  );
  return (name) => {
    const hex = colours.get(name) ?? '';
    expect(hex, name).toMatch(/^(?:[0-9a-f]{3}){1,2}$/);
    return fromHex(hex);
  };
}

describe('the colour difference of these tests', () => {
  it.each([
    // Test data of Sharma, Wu and Dalal 2005, table 1, pairs 1, 2, 7, 17 and 25; from memory.
    [[50, 2.6772, -79.7751], [50, 0, -82.7485], 2.0425],
    [[50, 3.1571, -77.2803], [50, 0, -82.7485], 2.8615],
    [[50, 0, 0], [50, -1, 2], 2.3669],
    [[50, 2.5, 0], [73, 25, -18], 27.1492],
    [[60.2574, -34.0099, 36.2677], [60.4626, -34.1751, 39.4387], 1.2644],
  ] as const)('is that of the paper for %j and %j', (a, b, expected) => {
    // Printed to four decimals.
    expectWithin(ciede2000(a, b), expected, { abs: 5e-5 });
  });
});

describe.each([
  ['light', LIGHT_COLOURS],
  ['dark', DARK_COLOURS],
])('the %s palette', (_, css) => {
  const colour = palette(css);

  it.each(['ink', 'muted', 'pass', 'marginal', 'fail', 'unmeasurable', 'angular', 'translational'])(
    'has text contrast for %s on sheet and well',
    (name) => {
      expect(contrast(colour(name), colour('sheet'))).toBeGreaterThan(4.5);
      expect(contrast(colour(name), colour('well'))).toBeGreaterThan(4.5);
    },
  );

  it.each(['angular', 'translational', 'limit', 'muted'])(
    'has graphics contrast for %s on sheet, well and the grey of the noise',
    (name) => {
      for (const ground of ['sheet', 'well', 'noise'])
        expect(contrast(colour(name), colour(ground)), ground).toBeGreaterThan(3);
    },
  );

  it.each(PAIRS)('keeps %s and %s apart for all eyes', (a, b) => {
    expect(ciede2000(labOf(colour(a)), labOf(colour(b)))).toBeGreaterThan(APART);
    for (const deficiency of DEFICIENCY_NAMES)
      expect(
        ciede2000(labOf(seenBy(deficiency, colour(a))), labOf(seenBy(deficiency, colour(b)))),
        deficiency,
      ).toBeGreaterThan(APART);
  });

  it('signs each badge with enough contrast', () => {
    for (const grade of ['pass', 'marginal', 'fail', 'unmeasurable'])
      expect(contrast(colour(grade), colour('on-badge'))).toBeGreaterThan(3);
  });
});

describe('what colour says', () => {
  it('is said by greys on paper', () => {
    const colour = palette(PRINT_COLOURS);
    const lightness = (name: string): number => labOf(colour(name))[0];
    for (const [a, b] of [
      ['angular', 'translational'],
      ['translational', 'noise'],
      ['noise', 'sheet'],
    ])
      expect(Math.abs(lightness(a) - lightness(b)), `${a} and ${b}`).toBeGreaterThan(GREY_APART);
    for (const name of ['ink', 'muted', 'translational'])
      expect(contrast(colour(name), colour('sheet')), name).toBeGreaterThan(4.5);
  });

  it('is repeated by hatching, by dashes and by shapes', () => {
    const bar = shareBar(0.8, [0.7, 0.9]);
    expect(bar).toContain('class="hatch"');
    expect(bar).toMatch(/angular<\/text>[\s\S]*translational<\/text>/);
    for (const line of ['floor-line-right', 'limit', 'intended', 'noise-floor'])
      expect(CHART_STYLE).toMatch(new RegExp(`\\.${line.replace('.', '\\.')}\\{[^}]*stroke-dasharray`));
    const shapes = (['pass', 'marginal', 'fail', 'unmeasurable'] as const).map((grade) =>
      verdictBadge(grade).replaceAll(grade, ''),
    );
    expect(new Set(shapes).size).toBe(4);
  });
});
