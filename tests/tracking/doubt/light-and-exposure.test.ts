/** The light on places that are followed, whether it says that the exposure changed, and points followed across such a change. */
import { describe, expect, it } from 'vitest';
import { gaussianRandom, mean, seededRandom } from '../../../src/numerics/index.js';
import {
  exposureChange,
  lightCourse,
  type LightCourse,
} from '../../../src/tracking/doubt/exposure-change.js';
import { lightStep, type LightStep } from '../../../src/tracking/doubt/light-step.js';
import { relightBetween } from '../../../src/tracking/doubt/relight.js';
import { exposureDoubts, greyCurveOf, trackFrames, type Tracking } from '../../../src/tracking/index.js';
import { expectWithin } from '../../support/expect-within.js';
import { AnalyticTexture, clipOf, type Placement } from '../support/analytic-texture.js';

const DISPLAY = { kind: 'display', contrastGain: 1 } as const;
const FPS = 25;

/** A course of so many stops over time, with the wander that steady scenes show. */
function courseOf(stopsAt: (timeS: number) => number, lengthS = 6): LightCourse {
  const random = gaussianRandom(seededRandom(5));
  const timeS = Float64Array.from({ length: lengthS * FPS }, (_, k) => k / FPS);
  const levelLn = timeS.map((t) => (Math.LN2 / 2.2) * (stopsAt(t) + 0.01 * random()));
  return { timeS, levelLn, levelGrey: timeS.map((t) => 20 * stopsAt(t)), toldShare: 1 };
}

const ramp = (t: number, fromS: number, lengthS: number): number =>
  Math.max(0, Math.min(1, (t - fromS) / lengthS));

describe('exposureChange', () => {
  it('tells a ramp: when and by how much', () => {
    const change = exposureChange(
      courseOf((t) => -1.5 * ramp(t, 2, 1)),
      DISPLAY,
    );
    expectWithin(change?.stops ?? NaN, -1.5, { abs: 0.05, why: 'wander of 0.01 stops, median over 0.4 s' });
    expectWithin(change?.fromS ?? NaN, 2.1, {
      abs: 0.1,
      why: 'a tenth of the change is left out at each end',
    });
    expectWithin(change?.toS ?? NaN, 2.9, { abs: 0.1, why: 'a tenth of the change is left out at each end' });
    expect(change?.count).toBe(1);
  });

  it('tells a jump at its frame', () => {
    const change = exposureChange(
      courseOf((t) => (t >= 3 ? 1 : 0)),
      DISPLAY,
    );
    expectWithin(change?.stops ?? NaN, 1, { abs: 0.05, why: 'wander of 0.01 stops' });
    expect(change?.toS).toBe(3);
    expectWithin(change?.fromS ?? NaN, 2.96, { abs: 1e-9, why: 'the frame before' });
  });

  it('counts slow hunting up and down', () => {
    const change = exposureChange(
      courseOf((t) => 0.4 * Math.sin(Math.PI * t)),
      DISPLAY,
    );
    expectWithin(Math.abs(change?.stops ?? NaN), 0.8, {
      abs: 0.1,
      why: 'the median over 0.4 s rounds peaks',
    });
    expect(change?.count).toBeGreaterThanOrEqual(5);
  });

  it.each([
    ['steady light', () => 0],
    ['a lamp that flickers', (t: number) => 0.4 * Math.sin(2 * Math.PI * 2.3 * t)],
    ['a lamp that flickers quickly', (t: number) => 0.4 * Math.sin(2 * Math.PI * 9.1 * t)],
    ['one flash', (t: number) => (t >= 2 && t < 2.12 ? 1.5 : 0)],
    ['a drift of a tenth of a stop', (t: number) => 0.02 * t],
  ])('holds still in %s', (_, stopsAt) => {
    expect(exposureChange(courseOf(stopsAt), DISPLAY)).toBeNull();
  });

  it('finds a ramp under a lamp that flickers', () => {
    const change = exposureChange(
      courseOf((t) => 0.4 * Math.sin(2 * Math.PI * 2.3 * t) + ramp(t, 5, 2), 12),
      DISPLAY,
    );
    expectWithin(change?.stops ?? NaN, 1, { abs: 0.1, why: 'what the mean over 3 s leaves of the lamp' });
  });

  it('counts a log curve in even steps, with the stretch of its contrast taken off', () => {
    const course = courseOf((t) => 2 * ramp(t, 2, 1));
    const stretched = { ...course, levelGrey: course.levelGrey.map((grey) => 3 * grey) };
    const change = exposureChange(stretched, greyCurveOf(null, 3));
    expectWithin(change?.stops ?? NaN, 2, { abs: 0.01, why: 'no noise on this column' });
  });

  it('says nothing where too few points told', () => {
    expect(exposureChange({ ...courseOf((t) => ramp(t, 2, 1)), toldShare: 0.5 }, DISPLAY)).toBeNull();
  });
});

const SIZE = { widthPx: 320, heightPx: 180 };
const GRID = { xPx: [] as number[], yPx: [] as number[] };
for (let y = 30; y < 150; y += 15)
  for (let x = 30; x < 290; x += 15) {
    GRID.xPx.push(x);
    GRID.yPx.push(y);
  }
const points = (dx: number, dy: number, scale = 1): { xPx: Float32Array; yPx: Float32Array } => ({
  xPx: Float32Array.from(GRID.xPx, (x) => 159.5 + scale * (x - 159.5) + dx),
  yPx: Float32Array.from(GRID.yPx, (y) => 89.5 + scale * (y - 89.5) + dy),
});
const texture = new AnalyticTexture({ seed: 3, ...SIZE, waves: 25, contrastGrey: 25, meanGrey: 110 });
const at = (place: Placement, k = 1): { widthPx: number; heightPx: number; grey: Uint8Array } => ({
  ...SIZE,
  grey: texture.picture(place, 0.5, k),
});
const STILL = { shiftXPx: 0, shiftYPx: 0, turnRad: 0 };

describe('lightStep', () => {
  it('sees a gain on places that moved, and none where only the places moved', () => {
    const before = at(STILL);
    const moved = at({ ...STILL, shiftXPx: 7.3, shiftYPx: -2.6 }, 2);
    const lit = { ...SIZE, grey: moved.grey.map((level) => Math.min(255, Math.round(level * 1.1))) };
    const still = lightStep(before, moved, points(0, 0), points(7.3, -2.6));
    expectWithin(still?.meanLn ?? NaN, 0, { abs: 0.002, why: 'rounding and noise over 100 squares' });
    const step = lightStep(before, lit, points(0, 0), points(7.3, -2.6));
    expectWithin(step?.meanLn ?? NaN, Math.log(1.1), {
      abs: 0.003,
      why: 'rounding and noise over 100 squares',
    });
  });

  it('is not moved by a subject in bright clothes', () => {
    const before = at(STILL);
    const grey = before.grey.slice();
    for (let y = 20; y < 160; y++) grey.fill(230, y * SIZE.widthPx + 60, y * SIZE.widthPx + 130);
    const step = lightStep(before, { ...SIZE, grey }, points(0, 0), points(0, 0));
    expectWithin(step?.meanLn ?? NaN, 0, { abs: 0.004, why: 'a quarter of the points is covered' });
  });

  it('gives nothing for too few points, or for black', () => {
    const few = { xPx: Float32Array.of(60, 90), yPx: Float32Array.of(60, 90) };
    expect(lightStep(at(STILL), at(STILL), few, few)).toBeNull();
    const black = { ...SIZE, grey: new Uint8Array(SIZE.widthPx * SIZE.heightPx) };
    expect(lightStep(black, black, points(0, 0), points(0, 0))).toBeNull();
  });
});

describe('lightCourse', () => {
  it('takes out corners that are darker, which a push-in would mistake for a change of the light', () => {
    // The picture grows by 1 % a frame and darkens by half a stop from the middle to the corners.
    const dark = 0.16;
    const steps: (LightStep | null)[] = [null];
    const random = gaussianRandom(seededRandom(9));
    for (let k = 1; k < 100; k++) {
      const outs = Array.from({ length: 200 }, (_, i) => 0.02 * (i / 200));
      const lns = outs.map((out) => -dark * out + 0.001 * random());
      const [meanOut, meanLn] = [mean(outs), mean(lns)];
      const sum = (of: (i: number) => number): number => outs.reduce((total, _, i) => total + of(i), 0);
      steps.push({
        points: 200,
        meanLn,
        meanGrey: 100 * meanLn,
        meanLevel: 100,
        meanOut,
        sumOutOut: sum((i) => (outs[i] - meanOut) ** 2),
        sumOutLn: sum((i) => (outs[i] - meanOut) * (lns[i] - meanLn)),
      });
    }
    const course = lightCourse(
      steps.map((_, k) => k / FPS),
      steps,
    );
    const raw = steps.reduce((total, step) => total + (step?.meanLn ?? 0), 0);
    expectWithin(raw, -0.158, { abs: 0.01, why: 'what would be mistaken: half a stop' });
    expectWithin(course.levelLn[99], 0, { abs: 0.03, why: 'a tenth of a stop' });
  });
});

describe('points followed across a jump of the exposure', () => {
  const FRAMES = 16;
  const JUMP = 8;
  const travel = (k: number): Placement => ({
    shiftXPx: 1.2 * k + 0.3 * Math.sin(k),
    shiftYPx: 0.4 * Math.sin(1.3 * k),
    turnRad: 0,
  });
  const steady = Array.from({ length: FRAMES }, (_, k) => texture.picture(travel(k), 1, k + 1));
  const followed = (gain: number): Promise<Tracking> => {
    const pictures = steady.map((grey, k) =>
      k < JUMP ? grey : grey.map((level) => Math.min(255, Math.round(level * gain))),
    );
    return trackFrames(clipOf(pictures, { ...SIZE, fps: FPS }), { threads: 1, targetTracks: 80 });
  };

  it.each([
    ['brighter', 1.37],
    ['darker', 0.73],
    ['much darker', 0.53],
  ])('stay with their places when it gets %s, and the doubt is told', async (_, gain) => {
    const { table, events, light } = await followed(gain);
    expect(events.cuts).toEqual([]);
    expect(table.frameCount).toBe(FRAMES);
    const errors: number[] = [];
    const trueStep = travel(JUMP).shiftXPx - travel(JUMP - 1).shiftXPx;
    for (let i = 0; i < table.trackCount; i++)
      for (let o = table.trackStart[i] + 1; o < table.trackStart[i + 1]; o++)
        if (table.obsFrame[o] === JUMP) errors.push(table.xPx[o] - table.xPx[o - 1] - trueStep);
    expect(errors.length).toBeGreaterThan(40);
    const why = 'noise of 1 grey level; as they were, points were lost or pulled by tenths of a pixel';
    expectWithin(mean(errors), 0, { abs: 0.02, why });
    const [doubt] = exposureDoubts(light, DISPLAY);
    expect(doubt.code).toBe('exposure-change');
    expectWithin(doubt.atS ?? NaN, JUMP / FPS, { abs: 1e-9, why: 'the frame of the jump' });
    expect(doubt.text).toContain(`about ${Math.abs(2.2 * Math.log2(gain)).toFixed(1)} stops`);
  });

  it('raise no doubt where the light is steady', async () => {
    expect(exposureDoubts((await followed(1)).light, DISPLAY)).toEqual([]);
  });
});

describe('relightBetween', () => {
  const blocks = (of: (i: number) => number): Float64Array =>
    Float64Array.from({ length: 576 }, (_, i) => of(i));
  const level = (i: number): number => 60 + ((i * 37) % 120);

  it('finds a gain and an offset, and tells them apart', () => {
    const gain = relightBetween(
      blocks(level),
      blocks((i) => 0.8 * level(i)),
    );
    expectWithin(gain?.gain ?? NaN, 0.8, { abs: 1e-9, why: 'exact blocks' });
    expect(gain?.offset).toBe(0);
    const offset = relightBetween(
      blocks(level),
      blocks((i) => level(i) - 15),
    );
    expect(offset).toEqual({ gain: 1, offset: -15 });
  });

  it('holds still when a third of the picture is covered by something bright', () => {
    expect(
      relightBetween(
        blocks(level),
        blocks((i) => (i % 3 === 0 ? 220 : level(i))),
      ),
    ).toBeNull();
  });

  it('holds still in black', () => {
    expect(
      relightBetween(
        blocks(() => 2),
        blocks(() => 4),
      ),
    ).toBeNull();
  });
});
