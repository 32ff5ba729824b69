/** The six axes on one time line: rows, scales, reading, long clips, units. */
import { describe, expect, it } from 'vitest';
import { motionTimeline, timecodeAt, type TimelineData } from '../../src/report/charts/index.js';
import { axlePassages } from '../../src/report/axle-passages.js';
import { pictureShakes } from '../../src/report/html/axis-numbers.js';
import { bumpTable } from '../../src/report/html/floor-bumps.js';
import { shakeSection } from '../../src/report/html/shake.js';
import { timelineData } from '../../src/report/html/shake-timeline.js';
import { largestSwingWords, shakeWords } from '../../src/report/html/shake-words.js';
import { sixAxes } from '../../src/run/index.js';
import { expectWithin } from '../support/expect-within.js';
import { madeUpBundle } from './support/made-up-bundle.js';
import { curvedAxis, QUIET_AXIS, timelineOf } from './support/made-up-charts.js';
import { madeUpMotion } from './support/made-up-motion.js';

/** Numbers in a drawing have two decimals. */
const TWO_DECIMALS = { abs: 0.02, why: 'numbers have two decimals' };
const WIDE = { widthPx: 1080 };
const flat = Array.from({ length: 101 }, () => 0);

function draw(data: TimelineData, widthPx = 1080): string {
  return motionTimeline.draw(data, { widthPx }).svg;
}

function heightOf(svg: string): number {
  return Number(/viewBox="0 0 \S+ (\S+)"/.exec(svg)?.[1]);
}

/** The curve of the first row as points. */
function curveOf(svg: string): (readonly [x: number, y: number])[] {
  const d = /class="series angular" d="([^"]*)"/.exec(svg)?.[1] ?? '';
  return [...d.matchAll(/(-?[\d.]+),(-?[\d.]+)/g)].map(([, x, y]) => [Number(x), Number(y)] as const);
}

describe('the rows of the time line', () => {
  it('draw an empty and a constant series without breaking', () => {
    const none = timelineOf([curvedAxis([], { intended: { every: 1, values: [] } })], { count: 0 });
    const still = timelineOf([curvedAxis(flat, { noise: 0, reach: 0 })]);
    for (const svg of [draw(none), draw(still)]) expect(svg).not.toMatch(/NaN|Infinity|undefined/);
    expect(motionTimeline.draw(none, WIDE).read(1)).toBeNull();
  });

  it('draw noise two sigma to each side of the plot of 62 px, whose scale reaches 1.08', () => {
    const svg = draw(timelineOf([curvedAxis(flat, { noise: 0.1 })]));
    const height = Number(/class="noise-band"[^>]*height="([\d.]+)"/.exec(svg)?.[1]);
    expectWithin(height, (62 * 0.4) / 2.16, TWO_DECIMALS);
  });

  it('take little height under the noise, say so in words and draw no curve', () => {
    const both = draw(timelineOf([curvedAxis(flat), QUIET_AXIS]));
    const one = draw(timelineOf([curvedAxis(flat)]));
    expect(heightOf(both) - heightOf(one)).toBeLessThan(30);
    expect(both).toContain('below 0.05 mm: noise hides it, no curve');
    expect(both).not.toContain('series translational');
  });

  it('go when their switch is off, and the strips of the intended move with theirs', () => {
    const data = timelineOf([curvedAxis(flat), QUIET_AXIS]);
    expect(motionTimeline.series(data).map(({ id }) => id)).toEqual(['tilt', 'lateral', 'move']);
    const hidden = motionTimeline.draw(data, { ...WIDE, hidden: ['lateral', 'move'] }).svg;
    expect(hidden).not.toContain('Lateral');
    expect(hidden).not.toContain('class="intended"');
  });

  it('are lower on a phone, where words are shorter and timecodes fewer', () => {
    const data = timelineOf([curvedAxis(flat), QUIET_AXIS]);
    const codes = (svg: string): number => svg.match(/>10:00:\d\d:\d\d</g)?.length ?? 0;
    expect(heightOf(draw(data, 360))).toBeLessThan(heightOf(draw(data)));
    expect(draw(data, 360)).not.toContain('no curve');
    expect(codes(draw(data, 360))).toBeGreaterThan(1);
    expect(codes(draw(data, 360))).toBeLessThan(codes(draw(data)));
  });
});

describe('the axes of the time line', () => {
  it('put a place where the dolly comes past it, and leave it out where no place is known', () => {
    const drawn = motionTimeline.draw(timelineOf([curvedAxis(flat)]), WIDE);
    const { left, right } = drawn.area;
    const at = Number(/x="([\d.]+)" y="[\d.]+" text-anchor="middle">1\.1</.exec(drawn.svg)?.[1]);
    // Half a metre takes 5 s, the other 1.5 m the next 5 s: 1.1 m is passed at 7 s.
    expectWithin(at, left + (right - left) * 0.7, TWO_DECIMALS);
    expect(draw(timelineOf([curvedAxis(flat)], { places: null }))).not.toContain('place,');
  });

  it('number the joints of the floor along the top, at their time, and thin out numbers that would touch', () => {
    const marks = [
      { atS: 5, axle: 'front' as const, mark: '1', name: 'joint' },
      { atS: 5.01, axle: 'front' as const, mark: '2', name: 'joint' },
    ];
    const drawn = motionTimeline.draw(timelineOf([curvedAxis(flat)], { marks }), WIDE);
    const numbers = [...drawn.svg.matchAll(/class="peak-label" x="([\d.]+)"[^>]*>(\d)</g)];
    expect(numbers.map(([, , mark]) => mark)).toEqual(['1']);
    expectWithin(Number(numbers[0][1]), (drawn.area.left + drawn.area.right) / 2, TWO_DECIMALS);
    // One piece over the rows and one through the row, for each of the two.
    expect(drawn.svg.match(/class="bump"/g)).toHaveLength(4);
  });

  it('mark where the rear axle meets a joint lighter, with a number that gives way to those of the front axle', () => {
    const marks = [
      { atS: 2, axle: 'rear' as const, mark: '1', name: 'joint' },
      { atS: 2.05, axle: 'front' as const, mark: '2', name: 'joint' },
      { atS: 6, axle: 'rear' as const, mark: '2', name: 'joint' },
    ];
    const { svg } = motionTimeline.draw(timelineOf([curvedAxis(flat)], { marks }), WIDE);
    expect(svg.match(/class="bump-rear"/g)).toHaveLength(4);
    expect(svg.match(/class="bump"/g)).toHaveLength(2);
    const numbers = [...svg.matchAll(/class="(peak-label|tick-label)" x="[\d.]+" y="12"[^>]*>(\d)</g)];
    expect(numbers.map(([, className, mark]) => `${className} ${mark}`)).toEqual([
      'peak-label 2',
      'tick-label 2',
    ]);
  });

  it('show the part that is asked for, on the scale of the whole', () => {
    const shake = flat.map((_, i) => (i === 50 ? 1 : 0));
    const whole = motionTimeline.draw(timelineOf([curvedAxis(shake)]), WIDE);
    const part = motionTimeline.draw(timelineOf([curvedAxis(shake)]), { ...WIDE, from: 4, to: 6 });
    expect(part.domain).toEqual([4, 6]);
    expect(part.stops).toHaveLength(21);
    const top = (svg: string): number => Math.min(...curveOf(svg).map(([, y]) => y));
    expect(top(part.svg)).toBe(top(whole.svg));
  });
});

describe('reading the time line', () => {
  it('tells time, timecode, place and each value with its unit, and where noise hides it', () => {
    const shake = flat.map((_, i) => (i === 50 ? -0.5 : 0.001));
    const marks = [{ atS: 5.02, axle: 'rear' as const, mark: '3', name: 'joint' }];
    const { read, area } = motionTimeline.draw(timelineOf([curvedAxis(shake), QUIET_AXIS], { marks }), WIDE);
    const reading = read(5.03);
    expect(reading?.at).toBe(5);
    expect(reading?.place).toBe('5.00 s, 10:00:05:00, 0.50 m, rear axle on joint 3');
    expect(reading?.values.map(({ text }) => text)).toEqual(['Tilt −0.5°', 'Lateral below noise']);
    const yPx = reading?.values[0].yPx ?? NaN;
    expect(yPx).toBeGreaterThan(area.top);
    expect(yPx).toBeLessThan(area.bottom);
    expect(read(1)?.values[0].text).toBe('Tilt below noise');
    expect(read(-9)?.at).toBe(0);
  });

  it('reads a thinned series along the line that is drawn', () => {
    const axis = curvedAxis([0, 0.8, 0], { at: [0, 40, 100] });
    const { read } = motionTimeline.draw(timelineOf([axis]), WIDE);
    expect(read(2)?.values[0].text).toBe('Tilt +0.4°');
    expect(read(4)?.values[0].text).toBe('Tilt +0.8°');
  });
});

describe('the time line of a run', () => {
  it('holds six axes, those above the noise with a curve of the printed unit', () => {
    const data = timelineData(madeUpBundle());
    expect(data.axes.map(({ id, curve }) => `${id} ${curve === null ? 'quiet' : 'curve'}`)).toEqual([
      ...['pan curve', 'tilt curve', 'roll curve', 'lateral quiet', 'vertical curve', 'axial curve'],
    ]);
    const motion = madeUpMotion();
    const vertical = data.axes[4];
    expect(vertical.unit).toBe('mm');
    expectWithin(vertical.curve?.shake[40] ?? NaN, 1000 * motion.vibration.vertical[40], {
      abs: 1e-12,
      why: 'one multiplication',
    });
    expect(data.axes[1].curve?.reach).toBe(data.axes[0].curve?.reach);
  });

  it('is in inches and feet for a crew that reads them', () => {
    const metric = timelineData(madeUpBundle());
    const imperial = timelineData(madeUpBundle((run) => (run.units = 'imperial')));
    const last = (data: TimelineData): number => data.places?.place.at(-1) ?? NaN;
    const exact = { rel: 1e-12, why: 'one division by an exact factor' };
    expect([imperial.places?.unit, imperial.axes[4].unit]).toEqual(['ft', 'in']);
    expectWithin(last(imperial), last(metric) / 0.3048, exact);
    expectWithin(imperial.axes[4].curve?.reach ?? NaN, (metric.axes[4].curve?.reach ?? NaN) / 25.4, exact);
    expect(imperial.axes[4].words).toMatch(/^0\.0\d+ in RMS$/);
  });

  it('marks what is not reliable', () => {
    const data = timelineData(
      madeUpBundle((run) => (run.motion.unreliable = [{ axis: 'tilt', reason: 'Knocks.' }])),
    );
    expect(data.axes[1].words).toContain('(not reliable)');
  });

  it('thins a long clip to some thousand points and keeps its joint', () => {
    const short = madeUpMotion();
    const n = 20_000;
    const long = (values: Float64Array): Float64Array =>
      Float64Array.from({ length: n }, (_, i) => (i === 12_345 ? 1 : values[i % values.length]));
    const stretch = (six: typeof short.vibration): typeof short.vibration =>
      sixAxes((axis) => long(six[axis]));
    const motion = {
      ...short,
      timeS: Float64Array.from({ length: n }, (_, i) => i / short.rateHz),
      vibration: stretch(short.vibration),
      intended: stretch(short.intended),
    };
    const { curve } = timelineData({ ...madeUpBundle(), motion }).axes[1];
    expect(curve?.at).toContain(12_345);
    expect(curve?.shake.length).toBeLessThan(3000);
    expect(curve?.intended.values.length).toBeLessThanOrEqual(500);
  });
});

describe('the axles over the floor', () => {
  it('are told apart: both of a joint ahead, the rear one alone of what the front one had passed', () => {
    expect(axlePassages({ axlesS: [1, 3], atM: 1.8 }, 0.6)).toEqual([
      { atS: 1, axle: 'front' },
      { atS: 3, axle: 'rear' },
    ]);
    expect(axlePassages({ axlesS: [0.4], atM: 0.1 }, 0.6)).toEqual([{ atS: 0.4, axle: 'rear' }]);
    expect(axlePassages({ axlesS: [9], atM: 2.9 }, 0.6)).toEqual([{ atS: 9, axle: 'front' }]);
  });

  it('each have a mark in the time line and the first one its name in the list', () => {
    const bundle = madeUpBundle((run) => {
      const [joint, dip] = run.surface.bumps;
      Object.assign(joint, { atM: 1.81, axlesS: [6.2, 8.2] });
      Object.assign(dip, { atM: 0.05, atS: 0.4, axlesS: [0.4] });
    });
    const marks = timelineData(bundle).marks.map(({ atS, axle, mark }) => `${mark} ${axle} ${atS}`);
    expect(marks.sort()).toEqual(['1 front 6.2', '1 rear 8.2', '2 rear 0.4']);
    expect(bumpTable(bundle).text).toMatch(/>\d\d:\d\d:\d\d:\d\d front</);
    expect(bumpTable(bundle).text).toMatch(/>\d\d:\d\d:\d\d:\d\d rear</);
  });
});

describe('what the shake of a run is, in words', () => {
  it('names the axis that shakes the picture most, the next one and the angular part', () => {
    // Tilt 0.0241 deg in px of the delivery, whatever the width of the clip.
    expect(shakeWords(madeUpBundle())).toMatch(
      /^Tilt shakes the picture most: \d\.?\d* px RMS at delivery size, then \w+ with [\d.]+ px\. 86 % of the shake is angular/,
    );
  });

  it('counts in px of the delivery, also where that is larger than the clip', () => {
    const bundle = madeUpBundle((run) => {
      Object.assign(run.clip, { widthPx: 1280, heightPx: 720 });
    });
    const { rmsDeg } = bundle.run.motion.angular.tilt;
    const { camera } = bundle.motion;
    const [{ axis, px }] = pictureShakes(bundle);
    expect(axis).toBe('tilt');
    // A tilt shifts the middle of the picture by its angle times the focal length, and the edges a little more.
    const inMiddle =
      ((rmsDeg ?? NaN) * Math.PI * camera.focalPx * bundle.run.delivery.widthPx) / 180 / camera.widthPx;
    expect(px / inMiddle).toBeGreaterThan(0.99);
    expect(px / inMiddle).toBeLessThan(1.2);
    expect(shakeWords(bundle)).toBe(shakeWords(madeUpBundle()));
    expect(shakeSection(bundle).text).toMatch(/In the picture<span class="sub">px of the delivery</);
  });

  it('names the joint under the wheels where the largest swing is', () => {
    expect(largestSwingWords(madeUpBundle())).toMatch(
      /^The largest swing of tilt, 0\.\d+°, is at 7\.\d\d s \(10:14:09:\d\d\), 1\.\d\d m along the run, as the front axle meets joint 1 of the floor list\.$/,
    );
  });

  it('says that nothing is above the noise', () => {
    const quiet = madeUpBundle((run) => {
      for (const axis of ['pan', 'tilt', 'roll'] as const)
        Object.assign(run.motion.angular[axis], { status: 'below', rmsDeg: null, belowDeg: 0.01 });
      for (const axis of ['lateral', 'vertical', 'axial'] as const)
        Object.assign(run.motion.translational[axis], { status: 'below', rms: null, below: 0.1 });
    });
    expect(shakeWords(quiet)).toBe('No axis shakes above its noise floor in this clip.');
    expect(timelineData(quiet).axes.every(({ curve }) => curve === null)).toBe(true);
    expect(timecodeAt({ fpsFraction: '25/1', timecodeStart: null }, 1)).toBe('00:00:01:00');
  });
});
