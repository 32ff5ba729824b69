import { describe, expect, it } from 'vitest';
import {
  floorStrip,
  profile,
  stripShades,
  wavelengths,
  type FloorStripData,
  type FrontAxle,
  type StripBump,
} from '../../src/report/charts/index.js';
import { bumpsOfHits, hitsSentence } from '../../src/report/html/floor-hits.js';
import { floorLead, notGraded } from '../../src/report/html/floor-lead.js';
import { floorSection } from '../../src/report/html/floor.js';
import { floorTexts } from '../../src/texts/index.js';
import { expectWithin } from '../support/expect-within.js';
import { madeUpBundle } from './support/made-up-bundle.js';
import { madeUpRun } from './support/made-up-run.js';

const n = 201;
const distanceM = Array.from({ length: n }, (_, i) => 0.01 * i);
/** Front axle 0.4 m ahead, 0.5 m/s from the first frame. */
const front: FrontAxle = {
  placeM: [0.4, 2.4],
  timeS: [0, 4],
  clip: { fpsFraction: '25/1', timecodeStart: null },
};
const bump = (atM: number, change: Partial<StripBump> = {}): StripBump => ({
  mark: '1',
  atM,
  kind: 'joint',
  wheelLine: 'both',
  heightMm: 1,
  leftMm: 1,
  rightMm: 1,
  words: 'joint of 1 mm up, both wheel lines',
  ...change,
});
const data: FloorStripData = {
  units: 'metric',
  fromM: 0,
  toM: 2,
  front,
  distanceM,
  lines: [
    {
      id: 'left',
      heightMm: distanceM.map((at) => (at < 1 ? 0.1 : 0.4) * Math.sin(60 * at)),
      bandMm: distanceM.map(() => 0.02),
    },
    { id: 'right', heightMm: distanceM.map(() => 0), bandMm: distanceM.map((at) => (at < 0.5 ? 3 : 0.02)) },
  ],
  bumps: [
    bump(0.5, { leftMm: 2, rightMm: -1.2 }),
    bump(1, {
      mark: '2',
      kind: 'step',
      wheelLine: 'right',
      leftMm: 0,
      rightMm: -0.8,
      words: 'step of 0.8 mm down',
    }),
    bump(1.5, { mark: '3', kind: 'bump', wheelLine: 'left', leftMm: 0.5, rightMm: 0 }),
    bump(1.8, { mark: '4', kind: 'dip', wheelLine: 'unknown', heightMm: -0.3 }),
  ],
  joints: { firstM: 0.5, spacingM: 0.5, count: 3 },
};

/** Places of the marks, px, by their class. */
function marksIn(svg: string): { x: number; y: number; down: boolean; d: string }[] {
  return [
    ...svg.matchAll(/class="bump-mark( down)?" transform="translate\(([\d.]+) ([\d.]+)\)[^"]*" d="([^"]*)"/g),
  ].map(([, down, x, y, d]) => ({ x: Number(x), y: Number(y), down: down !== undefined, d }));
}

/** Marks of the drawing alone: the legend below the axis has its own. */
function marksOf(svg: string, bottom: number) {
  return marksIn(svg).filter(({ y }) => y < bottom);
}

/** The width of a mark at its widest, px: the first number of its path in size. */
function sizeOf(d: string): number {
  return Math.max(...[...d.matchAll(/-?\d+(?:\.\d+)?/g)].map(([text]) => Math.abs(Number(text))));
}

/** Marks stand at their places to the rounding of the drawing, px. */
const ROUNDING = { abs: 0.02, why: 'SVG holds two decimals of a px' };

/** Lines along the ends of a run keep their outer half. */
const HALF_LINE = { abs: 0.6, why: 'half of a line of 1 px' };

describe('the strip of a run', () => {
  it.each([1080, 360])('draws every bump at its place, to scale, %i px wide', (widthPx) => {
    const { svg, area } = floorStrip.draw(data, { widthPx });
    const xs = [...new Set(marksOf(svg, area.bottom).map(({ x }) => x))].sort((a, b) => a - b);
    expect(xs).toHaveLength(4);
    [0.5, 1, 1.5, 1.8].forEach((at, i) =>
      expectWithin(xs[i], area.left + (at / 2) * (area.right - area.left), ROUNDING),
    );
    for (const [, x] of svg.matchAll(/<text[^>]* x="([\d.-]+)"/g))
      expect(Number(x)).toBeLessThanOrEqual(widthPx);
  });

  it('puts a bump on the wheel lines that it lies on, and between them where that is not known', () => {
    const { svg, area } = floorStrip.draw(data, { widthPx: 1080 });
    const marks = marksOf(svg, area.bottom);
    const rows = [...new Set(marks.map(({ y }) => y))].sort((a, b) => a - b);
    expect(rows).toHaveLength(3);
    const [left, between, right] = rows;
    expect(marks.filter(({ y }) => y === left)).toHaveLength(2); // both and left
    expect(marks.filter(({ y }) => y === right)).toHaveLength(2); // both and right
    expect(marks.filter(({ y }) => y === between)).toHaveLength(1);
    expectWithin(between, (left + right) / 2, ROUNDING);
  });

  it('tells down from up, and the higher from the lower by size', () => {
    const { svg, area } = floorStrip.draw(data, { widthPx: 1080 });
    const marks = marksOf(svg, area.bottom).sort((a, b) => a.x - b.x || a.y - b.y);
    expect(marks.map(({ down }) => down)).toEqual([false, true, true, false, true]);
    expect(sizeOf(marks[0].d)).toBeGreaterThan(sizeOf(marks[1].d));
    // Areas go with heights: 2 mm against 1.2 mm of one shape; to the rounding of the path.
    expectWithin((sizeOf(marks[0].d) / sizeOf(marks[1].d)) ** 2, 2 / 1.2, {
      rel: 0.01,
      why: 'paths hold two decimals of a px',
    });
  });

  it('brackets the row of joints with its spacing, and says where the run starts and goes', () => {
    const { svg } = floorStrip.draw(data, { widthPx: 1080 });
    for (const words of [
      'row of 3 joints, one every 0.500 m',
      'start: rear axle at the first frame',
      'direction of travel →',
    ])
      expect(svg).toContain(words);
    expect(svg.match(/class="joint-row"/g)).toHaveLength(4);
  });

  it('shades each line by how much it rises and falls between bumps, and leaves open what noise hides', () => {
    const shades = stripShades(data);
    const [left = [], right = []] = shades?.lines ?? [];
    const riseAt = (line: typeof left, at: number): number | null | undefined =>
      line.find(({ fromM, toM }) => at >= fromM && at < toM)?.riseMm;
    // Half a wave fits a stretch, so it shows about all of its height; half of that at the least.
    expect(riseAt(left, 1.33)).toBeGreaterThan(0.3);
    expect(riseAt(left, 0.33)).toBeLessThan(0.2);
    expect(riseAt(right, 0.2)).toBeNull();
    expect(riseAt(right, 1.2)).toBe(0);
    // A stretch with a bump has the bump's height, whatever the band says.
    expect(riseAt(left, 0.5)).toBe(2);
    expect(
      stripShades({ ...data, distanceM: [], lines: data.lines.map((line) => ({ ...line, heightMm: [] })) }),
    ).toBeNull();
  });

  it('shows the timecode at which the front axle is at a place, none before the clip', () => {
    const { svg, read } = floorStrip.draw(data, { widthPx: 1080 });
    expect(svg).toContain('00:00:01:05'); // 1 m: 0.6 m on at 0.5 m/s
    expect(read(1)?.place).toBe('1.00 m, front axle there at 00:00:01:05');
    expect(read(0.2)?.place).toBe('0.20 m, front axle there before the first frame');
    expect(floorStrip.draw({ ...data, front: null }, { widthPx: 360 }).read(0.2)?.place).toBe(
      '0.20 m from the start',
    );
  });

  it('reads the height of each line with its band, and the nearest bump', () => {
    const reading = floorStrip.draw(data, { widthPx: 1080 }).read(0.9);
    expect(reading?.values.map(({ text }) => text)).toEqual([
      'left −0.056 mm ± 0.02 mm',
      'right 0 mm ± 0.02 mm',
      'No. 2, at 1.00 m: step of 0.8 mm down',
    ]);
    expect(reading?.values[2].yPx).toBeNull();
    expect(floorStrip.draw(data, { widthPx: 1080 }).read(0.998)?.at).toBe(1);
  });

  it('steps from bump to bump, and shows a part of the run when it is asked to', () => {
    const part = floorStrip.draw(data, { widthPx: 720, from: 0.9, to: 1.6 });
    expect(part.domain).toEqual([0.9, 1.6]);
    expect(part.stops).toEqual([1, 1.5]);
    expect(part.svg).not.toContain('start: rear axle');
  });

  it('draws one line with the mean where the lines are not known apart', () => {
    const one = floorStrip.draw(
      {
        ...data,
        lines: [{ ...data.lines[0], id: 'mean' }],
        bumps: [bump(0.7, { wheelLine: 'unknown', leftMm: null, rightMm: null, heightMm: -1 })],
      },
      { widthPx: 360 },
    );
    expect(one.svg.match(/class="wheel-line"/g)).toHaveLength(1);
    expect(one.svg).toContain('>mean<');
    expect(one.svg).not.toContain('between the lines');
  });

  it('counts in feet and inches where that is asked for', () => {
    const { svg } = floorStrip.draw({ ...data, units: 'imperial' }, { widthPx: 1080 });
    expect(svg).toContain('distance along the run, ft');
    expect(svg).toMatch(/>0\.0\d+ in( and more)?</);
    const feet = profile.draw(
      { ...data, units: 'imperial', lines: [{ ...data.lines[0], id: 'mean' }] },
      { widthPx: 1080 },
    );
    expect(feet.svg).toContain('height, in');
  });
});

describe('a part of a run', () => {
  const part = { widthPx: 1080, from: 0.9, to: 1.1 };

  it('keeps shades and the line of the row inside of the frame, and the words of the row in the plot', () => {
    const { svg, area } = floorStrip.draw(data, part);
    const [inside] = [
      ...svg.matchAll(/<svg x="([\d.]+)" y="[\d.]+" width="([\d.]+)"[^>]*class="clip">(.*?)<\/svg>/g),
    ];
    const [, x, width, drawn] = inside;
    expectWithin(Number(x), area.left, HALF_LINE);
    expectWithin(Number(x) + Number(width), area.right, HALF_LINE);
    expect(drawn).toContain('joint-row');
    expect(drawn).toContain('class="wheel-line"');
    expect(svg.replace(drawn, '')).not.toContain('class="joint-row"');
    expect(svg).toContain('row of 3 joints');
    expect(floorStrip.draw(data, { widthPx: 1080, from: 0.1, to: 0.3 }).svg).not.toContain('row of 3 joints');
  });

  it('draws no marks of what lies beside it', () => {
    const { svg, area } = floorStrip.draw(data, { widthPx: 1080, from: 1.001, to: 1.2 });
    expect(marksOf(svg, area.bottom)).toHaveLength(0);
  });

  it('is told in steps of a hundredth of a metre at the finest, each timecode once', () => {
    const { svg } = profile.draw({ ...data, lines: data.lines }, { widthPx: 1080, from: 1, to: 1.1 });
    const places = [...svg.matchAll(/class="tick-label"[^>]*>(\d\.\d+)</g)].map(([, text]) => text);
    expect(places.every((text) => text.length <= 4)).toBe(true);
    expect(places.filter((text) => text.startsWith('1.0'))).toHaveLength(9);
    const timecodes = [...svg.matchAll(/>(\d\d:\d\d:\d\d:\d\d)</g)].map(([, text]) => text);
    expect(timecodes.length).toBeGreaterThan(0);
    expect(new Set(timecodes).size).toBe(timecodes.length);
    expect([floorStrip.closest, profile.closest]).toEqual([0.1, 0.1]);
  });
});

describe('the profile', () => {
  const lines = [{ ...data.lines[0], id: 'mean' as const }, ...data.lines];

  it('names its lines at the curves, numbers the bumps and leaves out what is switched off', () => {
    const all = profile.draw({ ...data, lines }, { widthPx: 1080 });
    for (const name of ['>left<', '>right<', '>4<']) expect(all.svg).toContain(name);
    const without = profile.draw({ ...data, lines }, { widthPx: 1080, hidden: ['right'] });
    expect(without.svg).not.toContain('floor-line-right');
    expect(without.read(1)?.values.map(({ id }) => id)).toEqual(['mean', 'left']);
    const series = profile.series({ ...data, lines });
    expect(series.map(({ id }) => id)).toEqual(['mean', 'left', 'right']);
    // Each by a line of its own.
    expect(new Set(series.map(({ sample }) => sample)).size).toBe(3);
  });

  it('shares its axis with the strip, so that one cursor fits both', () => {
    const strip = floorStrip.draw(data, { widthPx: 1080 });
    const drawn = profile.draw({ ...data, lines }, { widthPx: 1080 });
    expect([drawn.area.left, drawn.area.right, drawn.domain]).toEqual([
      strip.area.left,
      strip.area.right,
      strip.domain,
    ]);
    expect([floorStrip.axis, profile.axis, wavelengths.axis]).toEqual(['distance', 'distance', 'other']);
  });
});

describe('the section on the floor', () => {
  it('says what the floor is, how many bumps are worth a shim, and where the worst one is', () => {
    const passed = floorLead(madeUpRun());
    expect(passed).toContain('with 1 joint (a row, one every 0.300 m) and 1 dip.');
    expect(passed).toContain('Both kick the picture by more than 1 px, and this pass keeps its limits');
    expect(passed).toContain(
      'the worst is No. 1 at 1.810 m (10:14:09:06): joint of 0.66 mm up, both wheel lines.',
    );
    const run = madeUpRun();
    run.verdict.grade = 'fail';
    run.surface.bumps[1].pictureShiftPx = 0.4;
    const failed = floorLead(run);
    expect(failed).toContain('1 of them kicks the picture by more than 1 px and is worth a shim');
    expect(floorLead(madeUpRun((run) => (run.surface.bumps = [])))).toContain(
      'no joint, step or bump stands out',
    );
  });

  it('keeps strip, list, profile and the figures for engineers in this order, with data for a closer look', () => {
    const { text } = floorSection(madeUpBundle());
    const order = [
      '"kind":"floorStrip"',
      'worst first</caption>',
      '"kind":"profile"',
      'For engineers',
      '"kind":"wavelengths"',
    ];
    const at = order.map((part) => text.replace(/\s+<\/caption>/g, '</caption>').indexOf(part));
    expect(at.every((place) => place > 0)).toBe(true);
    expect([...at].sort((a, b) => a - b)).toEqual(at);
    expect(text).not.toMatch(/NaN|undefined|Infinity/);
  });

  it('asks for what was not given by the names of its options', () => {
    const { rig, surface } = madeUpRun();
    const bare = { ...rig };
    delete bare.wheelbaseM;
    const reason =
      'Give the wheelbase (to 5 mm): without it the pitch of the deck cannot be turned into heights of the floor.';
    expect(notGraded({ rig: bare, surface: { ...surface, reason } })).toBe(
      'Not graded, because the wheelbase was not given: measure the clip again with --wheelbase 450mm.',
    );
    const short = 'Roll a longer pass: the dolly moved 0.30 m and a grade needs at least 1.02 m.';
    expect(notGraded({ rig, surface: { ...surface, reason: short } })).toBe(`Not graded: ${short}`);
  });
});

describe('hits of the crop section beside joints and bumps', () => {
  it('says which bumps are hits, that none is, or that the count is another', () => {
    expect(floorTexts.hits(2, [1, 4], 8)).toBe(
      'Of these 8, 2 (No. 1 and 4) kick the picture so far above the shake around them that they count as hits in the crop of longer takes; the other 6 belong to its steady shake.',
    );
    expect(floorTexts.hits(2, [1], 8)).toContain('Only No. 1 kicks');
    expect(floorTexts.hits(2, [1], 8)).toContain('2 hits there');
    const sentence = (hitsSeen: number): string | null =>
      hitsSentence(madeUpBundle((run) => (run.stabilise.hitsSeen = hitsSeen)));
    expect(sentence(0)).toContain('None of them is a hit');
    expect(sentence(99)).toContain('counted in another way'); // never found again as 99
  });

  it('names a bump for a hit only where an axle was over it at the moment of the kick', () => {
    const bundle = madeUpBundle();
    const seconds = bundle.motion.timeS.length / bundle.motion.rateHz;
    const kickAtS = 0.5 * seconds;
    const pulse = Float64Array.from(
      bundle.motion.timeS,
      (t, i) =>
        1e-5 * Math.sin(9 * t) * Math.cos(31 * t) +
        (Math.abs(t - kickAtS) < 0.05 ? 2e-3 * (i % 2 ? 1 : 0.6) : 0),
    );
    const still = Float64Array.from(pulse, () => 0);
    const corrections = { vibration: { pan: still, tilt: pulse, roll: still }, rows: null };
    const withBump = (atS: number) => ({
      ...bundle,
      run: madeUpRun((run) => {
        run.stabilise.hitsSeen = 1;
        run.surface.bumps = run.surface.bumps.slice(0, 1).map((one) => ({ ...one, axlesS: [atS] }));
      }),
      stabilisation: { ...bundle.stabilisation, corrections },
    });
    expect(bumpsOfHits(withBump(kickAtS))).toEqual([1]);
    expect(bumpsOfHits(withBump(kickAtS - 1))).toBeNull();
  });
});
