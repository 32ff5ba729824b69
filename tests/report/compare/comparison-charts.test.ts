import { describe, expect, it } from 'vitest';
import {
  MARKERS,
  laneMarker,
  lanePlanChart,
  passDots,
  ratioChart,
  ratioSpan,
  shorten,
  wrapText,
  type DrawnChart,
  type RatioRow,
} from '../../../src/report/charts/index.js';
import { expectWithin } from '../../support/expect-within.js';
import { madeUpLanePlan } from '../support/made-up-lane-plan.js';

/** Coordinates are written with two decimals. */
const WRITTEN_PX = 0.011;

function row(change: Partial<RatioRow> = {}): RatioRow {
  return {
    name: 'Tilt',
    ratio: 0.8,
    ci95: [0.66, 0.96],
    value: '0.80',
    range: '0.66 to 0.96',
    says: 'clear: soft wheels smoother',
    mark: 'aSmoother',
    least: 1.2,
    ...change,
  };
}

/** Charts of a page are drawn this wide beside others. */
const WIDTH_PX = 352;

function drawn(rows: readonly RatioRow[], span = 2): DrawnChart {
  return ratioChart.draw(
    { label: 'ratios', a: 'soft wheels', b: 'hard wheels', rows, span },
    { widthPx: WIDTH_PX },
  );
}

function ratios(rows: readonly RatioRow[], span = 2): string {
  return drawn(rows, span).svg;
}

function attributes(svg: string, cls: string): Record<string, number>[] {
  return [...svg.matchAll(new RegExp(`<\\w+ class="${cls}"([^>]*)>`, 'g'))].map(([, text]) =>
    Object.fromEntries(
      [...text.matchAll(/([\w-]+)="(-?[\d.]+)"/g)].map(([, key, value]) => [key, Number(value)]),
    ),
  );
}

/** Numbers of SVG text at three decimals at most, as snapshots compare them. */
function rounded(svg: string): string {
  return svg
    .replace(/-?\d+\.\d{4,}/g, (text) => String(Number(Number(text).toFixed(3))))
    .replaceAll('><', '>\n<');
}

describe('the chart of ratios', () => {
  it('lays ratios out evenly in the logarithm about 1', () => {
    const svg = ratios([row({ ratio: 1, ci95: [0.5, 2], mark: 'unclear' })]);
    const [bar] = attributes(svg, 'ratio-bar');
    const [one] = attributes(svg, 'ratio-one');
    const [mark] = attributes(svg, 'ratio-mark');

    expectWithin((bar.x1 + bar.x2) / 2, one.x1, { abs: WRITTEN_PX });
    expectWithin(mark.cx, one.x1, { abs: WRITTEN_PX });
  });

  it('tells what is clear by shape and stroke, not by colour alone', () => {
    const svg = ratios([
      row(),
      row({ mark: 'bSmoother', ratio: 1.3, ci95: [1.1, 1.6] }),
      row({ mark: 'unclear' }),
      row({ mark: 'same', ratio: 1.01, ci95: [0.95, 1.07] }),
    ]);
    const marks = [...svg.matchAll(/<(\w+) class="ratio-mark( clear)?"(?: d="([^"]*)")?/g)];

    expect(marks.map(([, shape, clear]) => `${shape}${clear ?? ''}`)).toEqual([
      'path clear',
      'path clear',
      'circle',
      'rect',
    ]);
    // The triangles point to the smoother side: the first goes right from its tip, the second left.
    expect(marks[0][3]).toContain('l14 -7');
    expect(marks[1][3]).toContain('l-14 -7');
    expect(svg.match(/class="ratio-bar clear"/g)).toHaveLength(2);
  });

  it('keeps ranges inside the plot and marks an end that goes on by an arrow', () => {
    const svg = ratios([row({ ratio: 1, ci95: [0.1, 1.5], mark: 'unclear' })], 2);
    const [bar] = attributes(svg, 'ratio-bar');
    const [axis] = attributes(svg, 'axis');
    const path = /class="ratio-end" d="([^"]*)"/.exec(svg)?.[1] ?? '';

    expect(bar.x1).toBe(axis.x1);
    expect(path).toContain('l-5 4l5 4');
    expect(path).toContain('v8');
  });

  it('holds all ranges of several charts in one span, from 1.6 to 10', () => {
    expect(ratioSpan([])).toBeCloseTo(1.6 * 1.06, 9);
    expect(ratioSpan([row({ ratio: 0.5, ci95: [0.25, 1] })])).toBeGreaterThan(4);
    expect(ratioSpan([row({ ratio: 0.5, ci95: [0.01, 30] })])).toBe(10);
  });

  it('reaches out to a ratio that lies beyond 10, and draws its mark inside of the axis', () => {
    const far = row({ ratio: 17.9, ci95: [9.9, 32], mark: 'bSmoother' });
    const span = ratioSpan([far]);
    expect(span).toBeGreaterThan(17.9);
    const { svg, area } = drawn([far], span);
    const at = Number(/class="ratio-mark clear" d="M([\d.]+)/.exec(svg)?.[1]);
    // The tip of the triangle stands 8 px beyond its ratio.
    expect(at - 8).toBeLessThan(area.right);
  });

  it('says at its axis which way round the ratio is', () => {
    expect(ratios([row()])).toContain('shake RMS, soft wheels over hard wheels');
  });

  it('shades about 1 what is too small to be told: the mark of a clear ratio lies outside', () => {
    const svg = ratios([row({ ratio: 0.8, least: 1.2 }), row({ least: null })]);
    const [field] = attributes(svg, 'untold');
    const [one] = attributes(svg, 'ratio-one');
    const tip = Number(/class="ratio-mark clear" d="M([\d.]+)/.exec(svg)?.[1]) + 8;

    expect(attributes(svg, 'untold')).toHaveLength(1);
    expectWithin(field.x + field.width / 2, one.x1, { abs: WRITTEN_PX });
    expect(tip).toBeLessThan(field.x);
  });

  it('is read row by row: name, ratio, range and whether it is clear', () => {
    const { read, stops } = drawn([
      row(),
      row({ name: 'Pan', ratio: 1.08, value: '1.08', range: '0.90 to 1.30', says: 'no clear difference' }),
      row({ name: 'Roll', ratio: 1.08, value: '1.08', range: '', says: 'no clear difference' }),
      row({ name: 'None', ratio: null, ci95: null, mark: 'none' }),
    ]);

    expect(stops).toEqual([0.8, 1.08]);
    expect(read(0.6)).toMatchObject({
      at: 0.8,
      place: 'Tilt',
      values: [{ text: '0.80 (95 % range 0.66 to 0.96), clear: soft wheels smoother' }],
    });
    expect(read(1.3)?.place).toBe('Pan, Roll');
    expect(read(1.3)?.values.map(({ text }) => text)).toEqual([
      '1.08 (95 % range 0.90 to 1.30), no clear difference',
      '1.08, no clear difference',
    ]);
    expect(drawn([row({ ratio: null, ci95: null, mark: 'none' })]).read(1)).toBeNull();
  });

  it('keeps its figures within its width, however long the names are', () => {
    const { area, svg } = drawn([row({ name: '8 to 12.5 Hz' })]);

    expect(area.left).toBeGreaterThan(80);
    expect(area.right).toBeLessThan(WIDTH_PX - 80);
    expect(svg).toContain('>8 to 12.5 Hz<');
  });

  it('draws no mark where nothing was compared', () => {
    const svg = ratios([row({ ratio: null, ci95: null, value: '', range: '', mark: 'none' })]);

    expect(svg).toContain('not compared');
    expect(svg).not.toContain('ratio-mark');
  });

  it('names the side that is smoother by its bound, in place of a ratio', () => {
    const without = { ratio: null, ci95: null, value: '', range: '', least: null } as const;
    const named = (mark: RatioRow['mark']): string => ratios([row({ ...without, mark })]);

    expect(named('aSmoother')).toMatch(/class="row-value clear"[^>]*>soft wheels<.*>smoother</s);
    expect(named('bSmoother')).toMatch(/class="row-value clear"[^>]*>hard wheels<.*>smoother</s);
    expect(named('bSmoother')).not.toMatch(/not compared|ratio-mark/);
  });
});

describe('the dots of passes', () => {
  const two = (dots: readonly (number | null)[], lane = 0) => dots.map((value) => ({ value, lane }));

  it('puts a line at the median, and passes below the noise in a strip of their own', () => {
    const svg = passDots({
      label: 'tilt',
      axisTitle: 'RMS, °',
      columns: [
        { name: 'soft', dots: two([0.01, 0.03, 0.02]) },
        { name: 'hard', dots: two([null, null, 0.04]) },
      ],
    });

    expect(attributes(svg, 'median-line')).toHaveLength(1);
    expect(svg).toMatch(/class="median-label"[^>]*>0\.02</);
    expect(svg).toMatch(/class="median-label"[^>]*>below noise</);
    expect(svg.match(/class="pass-dot"/g)).toHaveLength(6);
    expect(attributes(svg, 'strip')).toHaveLength(1);
  });

  it('draws a pass that was left out empty, and keeps it out of the median', () => {
    const of = (leftOut: boolean): string =>
      passDots({
        label: 'tilt',
        axisTitle: 'RMS',
        columns: [
          {
            name: 'soft',
            dots: [
              { value: 0.2, lane: 0 },
              { value: 0.8, lane: 1, leftOut },
            ],
          },
        ],
      });
    expect(of(true).match(/class="pass-dot left-out"/g)).toHaveLength(1);
    expect(of(true)).toMatch(/class="median-label"[^>]*>0\.2</);
    expect(of(false)).not.toContain('left-out');
    expect(of(false)).toMatch(/class="median-label"[^>]*>0\.5</);
  });

  it('shares its scale with other charts where it is told how far they reach', () => {
    const height = (most?: number): number => {
      const data = { label: 'pan', axisTitle: 'RMS, °', columns: [{ name: 'soft', dots: two([0.01]) }] };
      const svg = passDots(most === undefined ? data : { ...data, most });
      return 146 - attributes(svg, 'median-line')[0].y1;
    };

    expect(height(0.05)).toBeLessThan(height() / 3);
  });

  it('gives each lane a shape of its own', () => {
    const shapes = new Set(Array.from({ length: MARKERS }, (_, lane) => laneMarker(lane, 0, 0)));

    expect(shapes.size).toBe(MARKERS);
  });

  it('keeps the dots of many passes inside their column', () => {
    const svg = passDots({
      label: 'tilt',
      axisTitle: 'RMS, °',
      columns: ['a', 'b', 'c'].map((name) => ({ name, dots: two(Array.from({ length: 20 }, () => 1)) })),
    });
    const width = Number(/viewBox="0 0 (\d+)/.exec(svg)?.[1]);
    const at = [...svg.matchAll(/translate\(([\d.]+) /g)].map(([, x]) => Number(x));

    expect(Math.max(...at)).toBeLessThan(width - 8);
    expect([...at].sort((p, q) => p - q)).toEqual(at);
  });
});

describe('the lane plan', () => {
  const draw = (change?: Parameters<typeof madeUpLanePlan>[0], widthPx = 720): string =>
    lanePlanChart(madeUpLanePlan(change), { widthPx, label: 'three lanes' });

  it('is drawn as it was looked at', async () => {
    await expect(rounded(draw())).toMatchFileSnapshot('snapshots/lane-plan.svg');
  });

  it('lies to scale: a stretch begins and ends at its metres', () => {
    const svg = draw();
    const [start] = attributes(svg, 'start-line');
    const bar = /class="scale-bar" d="M8 [\d.]+v8M8 [\d.]+H([\d.]+)/.exec(svg)?.[1];
    const pxPerM = Number(bar) - start.x1;
    const [first] = attributes(svg, 'keep-off');

    expect(svg).toContain('>1 m<');
    expectWithin(first.x, start.x1 + 2.1 * pxPerM, { abs: 3 * WRITTEN_PX });
    expectWithin(first.width, 0.8 * pxPerM, { abs: 3 * WRITTEN_PX });
  });

  it('says in words what to keep off, where the axle starts, which lane is best and which way was rolled', () => {
    const svg = draw();

    for (const words of [
      'keep off 2.1 to 2.9 m',
      'start: rear axle here',
      'best: middle',
      'out →  ← back',
      '3.2 mm',
    ])
      expect(svg).toContain(`>${words}<`);
    expect(svg.match(/class="best-lane"/g)).toHaveLength(1);
  });

  it('names no lane the best where none is', () => {
    expect(draw((plan) => (plan.best.lane = null))).not.toContain('best-lane');
  });

  it('lets no words of neighbouring stretches lie on each other', () => {
    const svg = draw((plan) => {
      plan.lanes[0].avoid = [2, 2.4, 2.8].map((fromM) => ({
        fromM,
        toM: fromM + 0.2,
        shakePx: 9,
        timesUsual: 2,
        joints: 0,
      }));
    }, 360);
    const rows = attributes(svg, 'keep-off-label')
      .slice(0, 3)
      .map(({ y }) => y);

    expect(new Set(rows).size).toBe(3);
  });

  it('keeps everything within its width', () => {
    for (const widthPx of [360, 720]) {
      const svg = draw(undefined, widthPx);
      const ends = [...svg.matchAll(/<rect [^>]*\bx="([\d.]+)"[^>]*\bwidth="([\d.]+)"/g)].map(
        ([, x, w]) => Number(x) + Number(w),
      );
      expect(Math.max(...ends)).toBeLessThanOrEqual(widthPx);
    }
  });

  it('is drawn on to a joint that only the front wheels met, dashed, with its height under its tick', () => {
    const plan = madeUpLanePlan((draft) => {
      draft.lanes[1].joints.push({ atM: 6.4, heightMm: 1 });
    });
    const svg = lanePlanChart(plan, { widthPx: 720, label: 'lanes' });
    expect(svg.match(/class="beyond-end"/g)).toHaveLength(1);
    expect(lanePlanChart(madeUpLanePlan(), { widthPx: 720, label: 'lanes' })).not.toContain('beyond-end');
    const last = Math.max(...attributes(svg, 'joint').map(({ x1 }) => x1));
    // The plot ends at the last joint; the scale of shake stands right of it.
    const axis = Math.max(...attributes(svg, 'axis').map(({ x2 }) => x2));
    expect(last).toBeLessThanOrEqual(axis + WRITTEN_PX);
    expect(attributes(svg, 'joint-label').map(({ x }) => x)).toContainEqual(last);
  });

  it('uses no metre where only shares of the pass are known', () => {
    const svg = draw((plan) => {
      plan.metric = false;
      for (const lane of plan.lanes) {
        lane.avoid = [{ fromM: 0.42, toM: 0.58, shakePx: 9, timesUsual: 2, joints: 0 }];
        lane.lengthM = 1;
        lane.places.atM = lane.places.atM.map((at) => at / 6);
        lane.joints = [];
      }
    });

    expect(svg).toContain('keep off 42 to 58 % of the pass');
    expect(svg).not.toMatch(/\d m</);
    expect(svg).not.toContain('scale-bar');
  });

  it('lies in feet for those who read feet, places drawn where they were', () => {
    const options = { widthPx: 720, label: 'three lanes' };
    const feet = lanePlanChart(madeUpLanePlan(), { ...options, units: 'imperial' });

    expect(feet).toContain('>along the lane, ft<');
    expect(feet).toContain('>keep off 6 ft 11 in to 9 ft 6 in<');
    expect(feet).not.toMatch(/\d mm?</);
    expect(attributes(feet, 'keep-off').map(({ x }) => x)).toEqual(
      attributes(draw(), 'keep-off').map(({ x }) => x),
    );
    // The bar is 0.5 to 5 ft long, and as long as its words say.
    const [, length] = />([\d.]+) ft</.exec(feet) ?? [];
    const end = Number(/class="scale-bar" d="M8 [\d.]+v8M8 [\d.]+H([\d.]+)/.exec(feet)?.[1]);
    const [ticks] = [[...feet.matchAll(/class="tick-label" x="([\d.]+)"[^>]*>(\d+)</g)]];
    const last = ticks[ticks.length - 1];
    expectWithin((end - 8) / Number(length), (Number(last[1]) - 8) / Number(last[2]), { abs: 0.05 });
  });

  it('stands without places, and without shake', () => {
    const svg = draw((plan) => {
      plan.lanes[0].places = { atM: [], shakePx: [] };
      plan.lanes[1].places.shakePx = plan.lanes[1].places.shakePx.map(() => 0);
    });

    expect(svg).not.toMatch(/NaN|undefined|Infinity/);
  });
});

describe('names in charts', () => {
  it('end in dots where they do not fit', () => {
    expect(shorten('aluminium rail', 9)).toBe('aluminiu…');
    expect(shorten('rail', 9)).toBe('rail');
    expect(wrapText('four bogies with soft tyres', 12, 2)).toEqual(['four bogies', 'with soft t…']);
    expect(wrapText('', 12, 2)).toEqual([]);
  });
});
