import { describe, expect, it } from 'vitest';
import { floorViewOf } from '../../../src/spectrum/peaks/floor-view.js';
import type { Pass } from '../../../src/surface/index.js';
import { expectWithin } from '../../support/expect-within.js';

const L = 0.45;
const B = 0.6;
const OFFSET_M = 0.1;
const HEIGHT_M = 1.2;
const RATE_HZ = 25;

function passOf(
  mounting: Partial<Pass['mounting']> = {},
  placeM?: Float64Array,
  trackWidthM: number | null = B,
): Pass {
  const places = placeM ?? Float64Array.from({ length: 250 }, (_, i) => (0.2 * i) / RATE_HZ);
  return {
    travel: {
      fromFrame: 0,
      toFrame: places.length,
      speedMps: ((places[places.length - 1] - places[0]) / (places.length - 1)) * RATE_HZ,
      placeM: places,
      speedVariation: 0,
      azimuthRad: null,
      tiltRad: 0,
    },
    mounting: {
      azimuthRad: 0,
      tiltRad: 0,
      offsetM: OFFSET_M,
      levellingHeightM: null,
      pitchShows: true,
      rollShows: true,
      heaveShows: true,
      ...mounting,
    },
    dolly: { wheelbaseM: L, trackWidthM },
    exposureS: 0.02,
    cutoffHz: 0.8,
  };
}

/**
 * Mean power of the lens's motions while the deck rolls over one wave of height 1 under both tracks, worked out place by place: the
 * lens's own frame turns with the pitch, and the step ahead is read off in it.
 */
function rolledOver(cyclesPerM: number, tiltRad: number): { tilt: number; vertical: number; axial: number } {
  const STEPS = 4000;
  const wayM = 5 / cyclesPerM;
  const size = 1e-6;
  const height = (x: number): number => size * Math.cos(2 * Math.PI * cyclesPerM * x);
  const pitchAt = (s: number): number => (height(s + L) - height(s)) / L;
  const lensAt = (s: number): [number, number] => {
    const pitch = pitchAt(s);
    const middle = (height(s) + height(s + L)) / 2;
    return [s - HEIGHT_M * pitch, middle + OFFSET_M * pitch];
  };
  const sums = { tilt: [] as number[], vertical: [] as number[], axial: [] as number[] };
  let [up, ahead] = [0, 0];
  for (let i = 0; i < STEPS; i++) {
    const [s0, s1] = [(i * wayM) / STEPS, ((i + 1) * wayM) / STEPS];
    const [a, b] = [lensAt(s0), lensAt(s1)];
    const lean = (pitchAt(s0) + pitchAt(s1)) / 2 + tiltRad;
    const [dx, dz] = [b[0] - a[0], b[1] - a[1]];
    up += dz * Math.cos(lean) - dx * Math.sin(lean) + (s1 - s0) * Math.sin(tiltRad);
    ahead += dx * Math.cos(lean) + dz * Math.sin(lean) - (s1 - s0) * Math.cos(tiltRad);
    sums.tilt.push(pitchAt(s1));
    sums.vertical.push(up);
    sums.axial.push(ahead);
  }
  const power = (x: number[]): number => {
    const mean = x.reduce((p, q) => p + q, 0) / x.length;
    return (2 * x.reduce((p, q) => p + (q - mean) ** 2, 0)) / x.length / size ** 2;
  };
  return { tilt: power(sums.tilt), vertical: power(sums.vertical), axial: power(sums.axial) };
}

describe('floorViewOf', () => {
  it('gives tilt, vertical and axial as a deck that rolls over single waves does, level and tilted', () => {
    for (const tiltRad of [0, 0.3]) {
      const pass = passOf({ tiltRad });
      for (const n of [0.7, 1.9, 3.3]) {
        const truth = rolledOver(n, tiltRad);
        for (const axis of ['tilt', 'vertical', 'axial'] as const) {
          const view = floorViewOf(axis, pass, { cameraHeightM: HEIGHT_M });
          expectWithin(
            view!.powerGain(n, 1),
            truth[axis],
            { rel: 0.01, why: '4000 steps' },
            `${axis} at ${n}`,
          );
        }
      }
    }
  });

  it('gives roll and lateral the difference of two independent tracks', () => {
    // 4 cos^2(pi n L) / B^2, and the same carried at the height of the lens.
    const n = 0.5;
    const expected = (4 * Math.cos(Math.PI * n * L) ** 2) / B ** 2;
    expectWithin(floorViewOf('roll', passOf())!.powerGain(n, 1), expected, { rel: 1e-9 });
    expectWithin(floorViewOf('lateral', passOf())!.powerGain(n, 1), expected, { rel: 1e-9 });
  });

  it('swaps pitch and roll for a lens that looks to the side, and mixes them in between', () => {
    const n = 0.9;
    const gain = (axis: 'tilt' | 'roll', azimuthRad: number): number =>
      floorViewOf(axis, passOf({ azimuthRad }))!.powerGain(n, 1);
    expectWithin(gain('tilt', Math.PI / 2), gain('roll', 0), { rel: 1e-9 });
    expectWithin(gain('roll', Math.PI / 2), gain('tilt', 0), { rel: 1e-9 });
    expectWithin(gain('tilt', Math.PI / 4), (gain('tilt', 0) + gain('roll', 0)) / 2, { rel: 1e-9 });
  });

  it('has no view of pan, without a pass, through a head that levels itself or hides the angle, or of a mixture without its measures', () => {
    expect(floorViewOf('pan', passOf())).toBeNull();
    expect(floorViewOf('tilt', null)).toBeNull();
    expect(floorViewOf('tilt', passOf({ levellingHeightM: 1.2 }))).toBeNull();
    expect(floorViewOf('tilt', passOf({ pitchShows: false }))).toBeNull();
    expect(floorViewOf('roll', passOf({ pitchShows: false }))).not.toBeNull();
    expect(floorViewOf('vertical', passOf({ heaveShows: false }))).toBeNull();
    expect(floorViewOf('tilt', passOf({ azimuthRad: 0.8 }, undefined, null))).toBeNull();
    expect(floorViewOf('axial', passOf({ tiltRad: 0.3 }))).toBeNull();
  });

  it('takes one speed for a steady pace and six equal shares of an uneven one', () => {
    expect(floorViewOf('tilt', passOf())!.speedsMps.length).toBe(1);
    // From 0.1 to 0.3 m/s evenly: six shares of a straight ramp.
    const places = Float64Array.from({ length: 251 }, (_, i) => (0.1 * i + (0.1 * i * i) / 250) / RATE_HZ);
    const { speedsMps } = floorViewOf('tilt', passOf({}, places))!;
    expect(speedsMps.length).toBe(6);
    speedsMps.forEach((v, k) => expectWithin(v, 0.1 + (0.2 * (k + 0.5)) / 6, { abs: 0.001 }));
  });

  it('trusts speed over wheelbase to 2 per cent and 5 mm', () => {
    expectWithin(floorViewOf('tilt', passOf())!.phaseSd, Math.hypot(0.02, 0.005 / L), { rel: 1e-9 });
  });
});
