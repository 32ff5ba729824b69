import { describe, expect, it } from 'vitest';
import {
  cropCurve,
  cropPicture,
  deliveryWindow,
  escapeText,
  motionTimeline,
  profile,
  wavelengths,
  shareBar,
  spectrogramChart,
  spectrumChart,
  thirdOctaveChart,
  thinOut,
  verdictBadge,
} from '../../src/report/charts/index.js';
import { timelineData } from '../../src/report/html/shake-timeline.js';
import { expectWithin } from '../support/expect-within.js';
import { madeUpBundle } from './support/made-up-bundle.js';
import { BANDS, SPECTRUM } from './support/made-up-charts.js';

/** The numbers of a path, in order. */
function numbersOf(path: string): number[] {
  return [...path.matchAll(/-?\d+(?:\.\d+)?/g)].map(([text]) => Number(text));
}

function pathOf(svg: string, cls: string): string {
  const found = new RegExp(`<path class="${cls}" d="([^"]*)"`).exec(svg);
  if (!found) throw new Error(`no path of class ${cls}`);
  return found[1];
}

const everyChart: [string, () => string][] = [
  ['motion', () => motionTimeline.draw(timelineData(madeUpBundle()), { widthPx: 1080 }).svg],
  ['motion on a phone', () => motionTimeline.draw(timelineData(madeUpBundle()), { widthPx: 360 }).svg],
  ['spectrum', () => spectrumChart.draw(SPECTRUM, { widthPx: 1080 }).svg],
  ['thirds of an octave', () => thirdOctaveChart.draw(BANDS, { widthPx: 360 }).svg],
  [
    'picture over time',
    () =>
      spectrogramChart(
        {
          label: 'Tilt along the run',
          timeS: [1, 1.5, 2],
          placeM: [0.2, 0.3, 0.4],
          units: 'metric',
          freqHz: [1, 2],
          rows: [
            [1, 0.01],
            [1, 1e-9],
            [0.02, 0],
          ],
        },
        360,
      ),
  ],
  [
    'crop curve',
    () =>
      cropCurve.draw(
        {
          label: 'Trade-off',
          points: [
            { smoothingS: 0.5, cropPercent: 1, residualPx: 0.5 },
            { smoothingS: 2, cropPercent: 4, residualPx: null },
          ],
          maxCropPercent: 5,
          maxResidualPx: 0.8,
          chosen: { smoothingS: 1.25, cropPercent: 3, residualPx: null },
          cropFactors: [0.9, 1.4],
          leftFactors: null,
        },
        { widthPx: 360 },
      ).svg,
  ],
  ['share bar', () => shareBar(0.86, [0.8, 0.9])],
  ['badge', () => verdictBadge('marginal')],
  [
    'profile',
    () =>
      profile.draw(
        {
          units: 'metric',
          fromM: 0,
          toM: 2,
          front: null,
          distanceM: [0, 1, 2],
          lines: [
            { id: 'mean', heightMm: [0, 0.4, -0.1], bandMm: [0.02, 0.03, 0.02] },
            { id: 'left', heightMm: [0.1, 0.4, 0], bandMm: [0.05, 0.05, 0.05] },
            { id: 'right', heightMm: [-0.1, 0.4, -0.2], bandMm: [0.05, 0.05, 0.05] },
          ],
          bumps: [
            { atM: 1, mark: '1' },
            { atM: 1.5, mark: '' },
          ],
        },
        { widthPx: 720 },
      ).svg,
  ],
  [
    'waves of the floor',
    () =>
      wavelengths.draw(
        {
          units: 'metric',
          bands: [
            {
              centreM: 0.1995,
              nominalM: 0.2,
              levelDb: 38.5,
              betweenJointsDb: 36.9,
              rangeDb: 1.6,
              below: false,
              limitDb: 11,
            },
            {
              centreM: 0.1,
              nominalM: 0.1,
              levelDb: 34,
              betweenJointsDb: null,
              rangeDb: 0,
              below: true,
              limitDb: null,
            },
          ],
        },
        { widthPx: 360 },
      ).svg,
  ],
  [
    'crop picture',
    () =>
      cropPicture({
        label: 'Frame',
        widthPx: 640,
        heightPx: 360,
        imageUri: null,
        window: Float64Array.of(0.1, 0.1, 0.9, 0.1, 0.9, 0.9, 0.1, 0.9),
        others: [],
      }),
  ],
];

describe('every chart', () => {
  it.each(everyChart)('%s: is named, holds no broken number, and comes out the same twice', (_, draw) => {
    const svg = draw();
    expect(svg).toMatch(/^<svg [^>]*role="img" aria-label="[^"]+"/);
    expect(svg).not.toMatch(/NaN|undefined|Infinity/);
    expect(draw()).toBe(svg);
  });

  it.each(everyChart)('%s: has colours from the style sheet only and at most two decimals', (_, draw) => {
    const svg = draw();
    expect(svg).not.toMatch(/(?:fill|stroke)="#/);
    // Labels may have more decimals, so they are left out.
    expect(svg.replace(/>[^<]*<|aria-label="[^"]*"/g, '')).not.toMatch(/\d\.\d{3,}/);
  });
});

describe('thinning', () => {
  it('leaves a short series whole and keeps ends and extremes of a long one', () => {
    expect(thinOut(new Float64Array(7), 100)).toEqual([0, 1, 2, 3, 4, 5, 6]);
    const values = Float64Array.from({ length: 5000 }, (_, i) => Math.sin(i));
    values[1234] = 9;
    values[4321] = -9;
    const kept = thinOut(values, 100);
    expect(kept).toEqual(expect.arrayContaining([0, 1234, 4321, 4999]));
    expect(kept).toEqual([...new Set(kept)].sort((a, b) => a - b));
    expect(thinOut(new Float64Array(0), 10)).toEqual([]);
  });
});

describe('the delivery window', () => {
  const plan = madeUpBundle().stabilisation;
  const turned = (panRad: number): typeof plan => ({
    ...plan,
    corrections: {
      vibration: { pan: Float64Array.of(panRad), tilt: Float64Array.of(0), roll: Float64Array.of(0) },
      rows: null,
    },
  });
  const still = turned(0);
  /** Points 0, 8, 16 and 24 of the 32 around the window are its corners. */
  const cornersOf = (window: Float64Array): number[] =>
    [0, 8, 16, 24].flatMap((i) => [window[2 * i], window[2 * i + 1]]);

  it('is centred and as wide as the crop leaves when nothing is corrected', () => {
    const corners = cornersOf(deliveryWindow({ ...still, zoom: 1.25 }, 0));
    // 1/1.25 is 0.8 of the frame, so 0.1 is left at each side.
    expect([...corners].map((value) => Number(value.toFixed(9)))).toEqual([
      0.1, 0.1, 0.9, 0.1, 0.9, 0.9, 0.1, 0.9,
    ]);
  });

  it('takes the shape of the delivery', () => {
    const corners = cornersOf(
      deliveryWindow({ ...still, zoom: 1, delivery: { widthPx: 1000, heightPx: 1000 } }, 0),
    );
    expectWithin(corners[2] - corners[0], 540 / 960, { abs: 1e-9, why: 'closed form' });
    expectWithin(corners[5] - corners[3], 1, { abs: 1e-9, why: 'closed form' });
  });

  it('follows the picture back through the correction', () => {
    // A camera that was turned to the right sees the sides of the window further left by its turn.
    const turn = 0.01;
    const side = Math.atan(480 / plan.zoom / 1350);
    const expected = (1350 * (Math.tan(side - turn) - Math.tan(side + turn))) / 2 / 960;
    const moved = deliveryWindow(turned(turn), 0);
    // Point 12 is the middle of the right side, point 28 that of the left one.
    const middle = (window: Float64Array): number => (window[2 * 12] + window[2 * 28]) / 2;
    expectWithin(middle(moved) - middle(deliveryWindow(still, 0)), expected, {
      abs: 1e-9,
      why: 'closed form',
    });
  });

  it('refuses a frame that the plan does not have', () => {
    expect(() => deliveryWindow(plan, 10_000)).toThrow(RangeError);
  });
});

describe('escaping', () => {
  it('leaves no way out of content or attributes', () => {
    expect(escapeText(`<img src=x onerror='a("b")'>&\u0000`)).toBe(
      '&lt;img src=x onerror=&#39;a(&quot;b&quot;)&#39;&gt;&amp;\ufffd',
    );
  });
});

describe('the picture over time', () => {
  const cells = (svg: string, shade: number): string[] =>
    pathOf(svg, `shade-${shade}`).match(/M[^M]*/g) ?? [];
  const svg = spectrogramChart(
    {
      label: 'Tilt',
      timeS: [1, 1.5, 2],
      placeM: null,
      units: 'metric',
      freqHz: [1, 2],
      rows: [
        [1, 0.1],
        [1, 0.1],
        [0.02, 0],
      ],
    },
    720,
  );

  it('joins neighbours of one shade in time, darkest for the largest, and leaves out what is not there', () => {
    expect(cells(svg, 5)).toHaveLength(1);
    // -10 dB is in the second step of 6 dB, -17 dB in the third.
    expect(cells(svg, 4)).toHaveLength(1);
    expect(cells(svg, 3)).toHaveLength(1);
    expect(cells(svg, 0)).toHaveLength(0);
  });

  it('names round places where the dolly comes past them, none without travel', () => {
    const along = spectrogramChart(
      {
        label: 'Tilt',
        timeS: [0, 1, 2],
        placeM: [0.1, 0.6, 1.1],
        units: 'metric',
        freqHz: [1, 2],
        rows: [
          [1, 1],
          [1, 1],
          [1, 1],
        ],
      },
      720,
    );
    const at = (label: string): number =>
      Number(new RegExp(`class="tick-label" x="([\\d.]+)" y="29"[^>]*>${label}<`).exec(along)?.[1]);
    // Time goes from -0.5 to 2.5 s over 594 px from 46; 0.8 m is passed at 1.4 s.
    expectWithin(at('0.8'), 46 + (594 * 1.9) / 3, { abs: 0.01, why: 'two decimals are written' });
    expect(along).toContain('place of the rear axle, m');
    expect(svg).not.toContain('place of the rear axle');
  });

  it('puts low frequencies below high ones', () => {
    const top = (path: string): number => numbersOf(path)[1];
    expect(top(cells(svg, 5)[0])).toBeGreaterThan(top(cells(svg, 4)[0]));
  });
});
