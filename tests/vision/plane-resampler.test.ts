/** Planes drawn anew: against functions that are known everywhere, and against the plain reading of the kernel. */
import { describe, expect, it } from 'vitest';
import {
  GRID_STEP_PX,
  gridNodes,
  PlaneResampler,
  type PlaceGrid,
  type Samples,
} from '../../src/vision/index.js';
import { lanczosWeights, LANCZOS_PHASES, LANCZOS_TAPS } from '../../src/vision/lanczos.js';
import { expectWithin } from '../support/expect-within.js';

type Warp = (x: number, y: number) => readonly [number, number];

function placesOf(widthPx: number, heightPx: number, warp: Warp): PlaceGrid {
  const columns = gridNodes(widthPx);
  const rows = Math.max(2, gridNodes(heightPx));
  const xPx = new Float64Array(columns * rows);
  const yPx = new Float64Array(columns * rows);
  for (let i = 0; i < xPx.length; i++)
    [xPx[i], yPx[i]] = warp(GRID_STEP_PX * (i % columns), GRID_STEP_PX * Math.floor(i / columns));
  return { xPx, yPx };
}

/** Turned by `turnRad` and magnified by `zoom` about (cx, cy). */
function turnAbout(cx: number, cy: number, turnRad: number, zoom: number): Warp {
  const c = Math.cos(turnRad) / zoom;
  const s = Math.sin(turnRad) / zoom;
  return (x, y) => [cx + c * (x - cx) - s * (y - cy), cy + s * (x - cx) + c * (y - cy)];
}

const SIZE = { widthPx: 203, heightPx: 121 };
const COUNT = SIZE.widthPx * SIZE.heightPx;

function sampled(
  f: Warp | ((x: number, y: number) => number),
  kind: typeof Uint8Array | typeof Uint16Array,
): Samples {
  return new kind(COUNT).map((_, i) =>
    Math.round(f(i % SIZE.widthPx, Math.floor(i / SIZE.widthPx)) as number),
  );
}

function drawn(source: Samples, warp: Warp, maximum: number): Samples {
  const target = source instanceof Uint8Array ? new Uint8Array(COUNT) : new Uint16Array(COUNT);
  new PlaneResampler(SIZE, SIZE).resample(source, placesOf(203, 121, warp), target, maximum);
  return target;
}

/** RMS of target minus f at the source places, pixels within `rim` of a border left out. */
function rmsAgainst(target: Samples, f: (x: number, y: number) => number, warp: Warp, rim: number): number {
  let sum = 0;
  let count = 0;
  for (let i = 0; i < COUNT; i++) {
    const [x, y] = warp(i % SIZE.widthPx, Math.floor(i / SIZE.widthPx));
    if (Math.min(x, y, SIZE.widthPx - 1 - x, SIZE.heightPx - 1 - y) < rim) continue;
    sum += (target[i] - f(x, y)) ** 2;
    count++;
  }
  expect(count).toBeGreaterThan(COUNT / 2);
  return Math.sqrt(sum / count);
}

/** Cheap noise, the same each time. */
const noise = (i: number): number => (Math.imul(i + 1, 2654435761) >>> 8) & 1023;

describe('a plane drawn anew', () => {
  it('is the same plane when nothing moves, sample by sample, at 8 and at 16 bits', () => {
    const deep = new Uint16Array(COUNT).map((_, i) => noise(i) * 64);
    const plain = new Uint8Array(COUNT).map((_, i) => noise(i) / 4);
    expect(drawn(deep, (x, y) => [x, y], 65535)).toEqual(deep);
    expect(drawn(plain, (x, y) => [x, y], 255)).toEqual(plain);
  });

  it('is the same plane moved when it moves by whole pixels, its outermost samples going on', () => {
    const source = new Uint8Array(COUNT).map((_, i) => noise(i) / 4);
    const moved = drawn(source, (x, y) => [x - 30, y + 25], 255);
    const expected = source.map((_, i) => {
      const x = Math.max(0, (i % SIZE.widthPx) - 30);
      const y = Math.min(SIZE.heightPx - 1, Math.floor(i / SIZE.widthPx) + 25);
      return source[y * SIZE.widthPx + x];
    });
    expect(moved).toEqual(expected);
  });

  it('shows a picture of known detail, up to 0.25 cycles/px, where a turn and a zoom put it', () => {
    const f = (x: number, y: number): number =>
      500 +
      200 * Math.sin(2 * Math.PI * (0.17 * x + 0.1 * y)) +
      200 * Math.cos(2 * Math.PI * (0.05 * x - 0.24 * y) + 1);
    const source = sampled(f, Uint16Array);
    for (const [turnDeg, zoom] of [
      [0.4, 1.02],
      [-3, 1.1],
      [6, 1.25],
    ]) {
      const warp = turnAbout(101, 60, (turnDeg * Math.PI) / 180, zoom);
      const rms = rmsAgainst(drawn(source, warp, 1023), f, warp, 5);
      expectWithin(rms, 0, { abs: 2.4, why: '0.6 % of 2 x 200 as the kernel promises up to 0.25 cycles/px' });
    }
  });

  it('agrees with sixty-four samples taken at once', () => {
    const source = sampled((x, y) => noise(x + 500 * y) / 4, Uint8Array);
    const weights = lanczosWeights();
    const warp = turnAbout(90, 50, 0.004, 1.05);
    const two = drawn(source, warp, 255);
    const window = (place: number): readonly [number, Float64Array] => {
      const q = Math.floor(place * LANCZOS_PHASES + 0.5);
      const phase = ((q % LANCZOS_PHASES) + LANCZOS_PHASES) % LANCZOS_PHASES;
      return [
        (q - phase) / LANCZOS_PHASES - 3,
        weights.subarray(LANCZOS_TAPS * phase, LANCZOS_TAPS * (phase + 1)),
      ];
    };
    const within = (k: number, length: number): number => Math.max(0, Math.min(length - 1, k));
    let sum = 0;
    for (let i = 0; i < COUNT; i++) {
      const [x, y] = warp(i % SIZE.widthPx, Math.floor(i / SIZE.widthPx));
      const [left, across] = window(x);
      const [top, down] = window(y);
      let value = 0;
      for (let k = 0; k < 64; k++) {
        const row = within(top + (k >> 3), SIZE.heightPx) * SIZE.widthPx;
        value += down[k >> 3] * across[k & 7] * source[row + within(left + (k & 7), SIZE.widthPx)];
      }
      sum += (two[i] - Math.max(0, Math.min(255, Math.round(value)))) ** 2;
    }
    // White noise holds all frequencies: beyond 0.4 cycles/px the two orders of summing differ by the shear of 0.23 degrees.
    expectWithin(Math.sqrt(sum / COUNT), 0, { abs: 1, why: 'one level of noise whose RMS is 74 levels' });
  });

  it('keeps within the levels of the depth at edges, and keeps an even surface even', () => {
    const bars = sampled((x) => (x % 22 < 11 ? 0 : 1023), Uint16Array);
    const warp: Warp = (x, y) => [x + 0.5, y + 0.25];
    const overshot = drawn(bars, warp, 1023);
    expect(Math.max(...overshot)).toBe(1023);
    expect(Math.min(...overshot)).toBe(0);
    const flat = new Uint16Array(COUNT).fill(717);
    expect(new Set(drawn(flat, turnAbout(90, 50, 0.1, 1.3), 1023))).toEqual(new Set([717]));
  });

  it('takes places that are nowhere without fault', () => {
    const source = new Uint8Array(COUNT).fill(90);
    expect(new Set(drawn(source, (x) => [x > 100 ? NaN : 1e9, NaN], 255))).toEqual(new Set([90]));
  });

  it('refuses planes and grids of the wrong length', () => {
    const resampler = new PlaneResampler(SIZE, SIZE);
    const places = placesOf(203, 121, (x, y) => [x, y]);
    const plane = new Uint8Array(COUNT);
    expect(() => resampler.resample(plane.subarray(1), places, plane, 255)).toThrow(/source: expected 24563/);
    expect(() =>
      resampler.resample(
        plane,
        placesOf(300, 121, (x, y) => [x, y]),
        plane,
        255,
      ),
    ).toThrow(/places/);
  });
});

describe('the kernel', () => {
  /** RMS error over all shifts, as a share of the amplitude, of a grating shifted with places rounded to 1/steps px. */
  function errorAt(cyclesPerPx: number, steps: number): number {
    const weights = lanczosWeights();
    const shifts = 997;
    let sum = 0;
    for (let s = 0; s < shifts; s++) {
      const place = s / shifts;
      const phase = (Math.floor(place * steps + 0.5) * LANCZOS_PHASES) / steps;
      const whole = phase >= LANCZOS_PHASES ? 1 : 0;
      let re = -Math.cos(2 * Math.PI * cyclesPerPx * place);
      let im = -Math.sin(2 * Math.PI * cyclesPerPx * place);
      for (let k = 0; k < LANCZOS_TAPS; k++) {
        const w = weights[LANCZOS_TAPS * (phase - whole * LANCZOS_PHASES) + k];
        re += w * Math.cos(2 * Math.PI * cyclesPerPx * (k - 3 + whole));
        im += w * Math.sin(2 * Math.PI * cyclesPerPx * (k - 3 + whole));
      }
      sum += re * re + im * im;
    }
    return Math.sqrt(sum / shifts);
  }

  it('shifts gratings with the error that it states, half of what places of 1/32 px would give', () => {
    const why = 'own calculation of the response of each phase';
    expectWithin(100 * errorAt(0.2, LANCZOS_PHASES), 0.58, { abs: 0.03, why });
    expectWithin(100 * errorAt(0.25, LANCZOS_PHASES), 0.58, { abs: 0.03, why });
    expectWithin(100 * errorAt(0.35, LANCZOS_PHASES), 2.02, { abs: 0.03, why });
    expectWithin(100 * errorAt(0.2, 32), 1.27, { abs: 0.05, why });
    expectWithin(100 * errorAt(0.35, 32), 2.82, { abs: 0.05, why });
  });
});
