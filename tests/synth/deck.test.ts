import { describe, expect, it } from 'vitest';
import { deckOn, makeDeck } from '../../src/synth/deck.js';
import { makeFloor, wheelPath, type FloorProfile } from '../../src/synth/floor-profile.js';
import { PROFILE_SPACING_M } from '../../src/synth/laid-on-floor.js';
import { DECK_DEFAULTS, FLOOR_DEFAULTS, makeCameraPath, resolveSynthOptions } from '../../src/synth/index.js';
import { realFft } from '../../src/numerics/index.js';
import { expectWithin } from '../support/expect-within.js';

const L = 0.45;
const B = 0.4;
const BODY = { ...DECK_DEFAULTS, wheelbaseM: L, trackWidthM: B };

/** A floor from one height function for each track. */
function floorOf(left: (s: number) => number, right = left): FloorProfile {
  const heights = (f: (s: number) => number) =>
    Float64Array.from({ length: 3600 }, (_, i) => f(i * PROFILE_SPACING_M - 0.3));
  return { startM: -0.3, left: heights(left), right: heights(right), joints: [], steps: [], bumps: [] };
}

/** Heights are given every millimetre and joined by lines. */
const PROFILE = { abs: 1e-9, why: 'flat floor on both sides of the axles' };

describe('a deck on two axles', () => {
  it('pitches by h / L for one wheelbase after the front axle has climbed a step of h', () => {
    const h = 0.002;
    const floor = {
      ...FLOOR_DEFAULTS,
      gdM3: 0,
      steps: [{ atM: 1, heightMm: 1000 * h, side: 'both' as const }],
    };
    const deck = makeDeck({ ...BODY, floor }, 1, 2);
    const at = (s: number) => deck.stateAt(s);
    expectWithin(at(1 - L - 0.1).pitchRad, 0, PROFILE, 'before');
    for (const s of [1 - L + 0.05, 1 - L / 2, 1 - 0.05]) {
      expectWithin(at(s).pitchRad, h / L, PROFILE, `pitch at ${s} m`);
      expectWithin(at(s).heaveM, h / 2, PROFILE, `heave at ${s} m`);
      expectWithin(at(s).rollRad, 0, PROFILE, `roll at ${s} m`);
    }
    expectWithin(at(1.05).pitchRad, 0, PROFILE, 'after');
    expectWithin(at(1.05).heaveM, h, PROFILE, 'after');
  });

  it('rolls by h / B on a left track that lies h higher', () => {
    const deck = deckOn(
      floorOf(
        () => 0.001,
        () => 0,
      ),
      BODY,
    );
    expectWithin(deck.stateAt(1).rollRad, 0.001 / B, PROFILE);
    expectWithin(deck.stateAt(1).pitchRad, 0, PROFILE);
  });

  it('does not pitch on waves as long as the wheelbase, and does not heave on waves twice as long', () => {
    const wave = (lengthM: number) => floorOf((s) => 0.001 * Math.sin((2 * Math.PI * s) / lengthM));
    const still = {
      abs: 2e-6,
      why: 'wheels and lines between millimetres change a wave by parts in a thousand',
    };
    const [short, long] = [deckOn(wave(L), BODY), deckOn(wave(2 * L), BODY)];
    const spread = (f: (s: number) => number) => {
      const values = Array.from({ length: 90 }, (_, i) => f(0.2 + i * 0.01));
      return (Math.max(...values) - Math.min(...values)) / 2;
    };
    expectWithin(
      spread((s) => short.stateAt(s).pitchRad * L),
      0,
      still,
    );
    expectWithin(
      spread((s) => long.stateAt(s).heaveM),
      0,
      still,
    );
    // And the other way round: full heave on the short wave, twice the amplitude over L as pitch on the long one.
    expectWithin(
      spread((s) => short.stateAt(s).heaveM),
      0.001,
      { rel: 0.02, why: 'samples beside the crest' },
    );
    expectWithin(
      spread((s) => long.stateAt(s).pitchRad),
      0.002 / L,
      { rel: 0.02, why: 'samples beside the crest' },
    );
  });

  it('lets a wheel bridge a gap: it sinks by width^2 / 8 r', () => {
    const [width, r] = [0.008, 0.04];
    const track = Float64Array.from({ length: 400 }, (_, i) =>
      Math.abs(i * PROFILE_SPACING_M - 0.2) < width / 2 ? -0.01 : 0,
    );
    const sunk = -Math.min(...wheelPath(track, r, DECK_DEFAULTS.contactPatchM));
    expectWithin(sunk, width ** 2 / (8 * r), {
      rel: 0.35,
      why: 'a gap of 8 samples, averaged over the 4 mm of contact',
    });
  });

  it('smooths with a soft tyre: a wave of half the contact patch is gone, one of ten patches is not', () => {
    const swing = (lengthM: number) => {
      const track = Float64Array.from(
        { length: 1000 },
        (_, i) => 1e-5 * Math.sin((2 * Math.PI * i * PROFILE_SPACING_M) / lengthM),
      );
      const path = wheelPath(track, 0.1, 0.045).slice(200, 800);
      return (Math.max(...path) - Math.min(...path)) / 2e-5;
    };
    expectWithin(swing(0.0225), 0, { abs: 0.02, why: 'first zero of a raised cosine is at half its base' });
    expectWithin(swing(0.45), 1, { abs: 0.02, why: 'one minus a fiftieth of the square of 2 pi / 10' });
  });
});

describe('a camera on the deck', () => {
  const floor = { gdM3: 3e-6, joints: { spacingM: 0.3, lippageMm: 0.5 } };

  it.each([0, -90, 90, 180, 30])(
    'takes its share of pitch, roll and heave (lens azimuth %d)',
    (azimuthDeg) => {
      const options = resolveSynthOptions({
        move: azimuthDeg === 0 || azimuthDeg === 180 ? 'pushIn' : 'lateral',
        lensAzimuthDeg: azimuthDeg,
        driftDeg: 0,
        deck: { floor, wheelbaseM: L, trackWidthM: B, cameraOffsetM: 0.05 },
        cameraHeightM: 0.9,
      });
      const path = makeCameraPath(options);
      const c = Math.cos((azimuthDeg * Math.PI) / 180);
      const s = Math.sin((azimuthDeg * Math.PI) / 180);
      for (const timeS of [0.5, 1.7, 3.1]) {
        const { pitchRad: p, rollRad: q, heaveM: u } = path.deck!.stateAt(path.travelAt(timeS));
        const { rotation: r, centre } = path.poseAt(timeS);
        const rest = path.intendedAt(timeS);
        const moved = [0, 1, 2].map((i) => centre[i] - rest[i]);
        // Second-order terms of rotations of a few milliradians.
        const small = { abs: 3e-5, why: 'squares of the deck angles' };
        expectWithin((r[5] - r[7]) / 2, p * c - q * s, small, 'tilt');
        expectWithin((r[1] - r[3]) / 2, q * c + p * s, small, 'roll');
        expectWithin((r[6] - r[2]) / 2, 0, small, 'pan');
        expectWithin(-moved[1], u + 0.05 * p, small, 'vertical');
        const [side, ahead] = [0.9 * q, -0.9 * p];
        expectWithin(moved[0], side * c - ahead * s, small, 'lateral');
        expectWithin(moved[2], side * s + ahead * c, small, 'axial');
      }
    },
  );
});

describe('a made-up floor', () => {
  it('has the spectrum that was asked for, on both tracks', () => {
    const gdM3 = 1e-6;
    const floor = makeFloor({ ...FLOOR_DEFAULTS, gdM3 }, 5, 0, 65.535);
    for (const track of [floor.left, floor.right]) {
      const n = track.length;
      // A Hann window keeps the steep slope of the spectrum from leaking into the band.
      const windowed = track.map((z, i) => z * (1 - Math.cos((2 * Math.PI * i) / n)));
      const { re, im } = realFft(windowed);
      const step = 1 / (n * PROFILE_SPACING_M);
      const [low, high] = [0.5, 8];
      let power = 0;
      for (let k = Math.ceil(low / step); k <= high / step; k++) {
        power += (2 * (re[k] ** 2 + im[k] ** 2)) / (n * n) / 1.5;
      }
      // Integral of Gd (n / 0.1)^-2 from low to high.
      const expected = gdM3 * 0.01 * (1 / low - 1 / high);
      expectWithin(power / expected, 1, {
        abs: 0.35,
        why: 'a third of the power lies in the 30 lowest random waves',
      });
    }
  });

  it('has tracks that agree on long waves and not on short ones', () => {
    const { left, right } = makeFloor({ ...FLOOR_DEFAULTS }, 6, 0, 60);
    const likeness = (lag: number) => {
      let ab = 0;
      let aa = 0;
      let bb = 0;
      for (let i = lag; i < left.length; i++) {
        const a = left[i] - left[i - lag];
        const b = right[i] - right[i - lag];
        ab += a * b;
        aa += a * a;
        bb += b * b;
      }
      return ab / Math.sqrt(aa * bb);
    };
    expect(likeness(2000)).toBeGreaterThan(0.7);
    expect(likeness(20)).toBeLessThan(0.4);
  });

  it('lays joints at even distances and says what each one does', () => {
    const floor = makeFloor(
      {
        ...FLOOR_DEFAULTS,
        gdM3: 0,
        joints: { spacingM: 0.3, lippageMm: 0.4, gapWidthMm: 0, gapDepthMm: 0, firstAtM: 0.1 },
      },
      7,
      -0.3,
      2,
    );
    expect(floor.joints.length).toBeGreaterThanOrEqual(7);
    const heightAfter = (track: Float64Array, atM: number) =>
      track[Math.round((atM + 0.05 + 0.3) / PROFILE_SPACING_M)];
    const heightBefore = (track: Float64Array, atM: number) =>
      track[Math.round((atM - 0.05 + 0.3) / PROFILE_SPACING_M)];
    for (const joint of floor.joints.slice(1, -1)) {
      expectWithin((joint.atM - 0.1) / 0.3, Math.round((joint.atM - 0.1) / 0.3), { abs: 1e-9 });
      expectWithin(
        heightAfter(floor.left, joint.atM) - heightBefore(floor.left, joint.atM),
        joint.leftStepM,
        { abs: 1e-12 },
      );
      expectWithin(
        heightAfter(floor.right, joint.atM) - heightBefore(floor.right, joint.atM),
        joint.rightStepM,
        { abs: 1e-12 },
      );
    }
  });

  it('lays steps and bumps under the track that was asked for and lists them', () => {
    const floor = makeFloor(
      {
        ...FLOOR_DEFAULTS,
        gdM3: 0,
        steps: [{ atM: 0.5, heightMm: 2, side: 'left' }],
        bumps: [
          { atM: 1, heightMm: 1, lengthMm: 100, side: 'right' },
          { atM: 1.5, heightMm: -0.5, lengthMm: 40, side: 'both' },
        ],
      },
      7,
      -0.3,
      2,
    );
    const at = (track: Float64Array, placeM: number) => track[Math.round((placeM + 0.3) / PROFILE_SPACING_M)];
    expect(floor.steps).toEqual([{ atM: 0.5, leftStepM: 0.002, rightStepM: 0 }]);
    expect(floor.bumps).toEqual([
      { atM: 1, lengthM: 0.1, leftM: 0, rightM: 0.001 },
      { atM: 1.5, lengthM: 0.04, leftM: -0.0005, rightM: -0.0005 },
    ]);
    const exact = { abs: 1e-12 };
    expectWithin(at(floor.left, 0.49), 0, exact, 'before the step');
    expectWithin(at(floor.left, 0.51), 0.002, exact, 'after the step');
    expectWithin(at(floor.right, 0.51), 0, exact, 'beside the step');
    expectWithin(at(floor.right, 1), 0.001, exact, 'on the bump');
    expectWithin(at(floor.right, 1.025), 0.0005, exact, 'half-way down the bump');
    expectWithin(at(floor.right, 1.06), 0, exact, 'behind the bump');
    expectWithin(at(floor.left, 1), 0.002, exact, 'beside the bump');
    expectWithin(at(floor.left, 1.5), 0.0015, exact, 'in the hollow');
  });
});
