import { describe, expect, it } from 'vitest';
import { exposureGain } from '../../src/optics/index.js';
import { rotationFromAngles } from '../../src/optics/index.js';
import { lampLight, lightRows } from '../../src/synth/causes/lamp-light.js';
import { makeRinging } from '../../src/synth/causes/mount-ringing.js';
import {
  DECK_DEFAULTS,
  FLOOR_DEFAULTS,
  makeCameraPath,
  resolveSynthOptions,
  rigOf,
  startFilm,
  truthOf,
} from '../../src/synth/index.js';
import { makeDeck } from '../../src/synth/deck.js';
import { expectWithin } from '../support/expect-within.js';

const PLANE = { ...FLOOR_DEFAULTS, gdM3: 0 };
const RADIUS_M = 0.04;

describe('a wheel out of round', () => {
  const deckWith = (wheel: 'frontLeft' | 'front' | 'all', perTurn = 1) =>
    makeDeck(
      {
        ...{ ...DECK_DEFAULTS, wheelRadiusM: RADIUS_M, floor: PLANE },
        lobes: [{ wheel, perTurn, amplitudeMm: 0.2, phaseDeg: 30 }],
      },
      1,
      1,
    );
  const exact = { abs: 1e-12 };

  it('lifts its axle once a turn', () => {
    const deck = deckWith('frontLeft');
    for (const wayM of [0, 0.03, 0.11, 0.251]) {
      const heightM = 0.0002 * Math.cos(wayM / RADIUS_M + Math.PI / 6);
      const { pitchRad, rollRad, heaveM } = deck.stateAt(wayM);
      expectWithin(pitchRad, heightM / 2 / DECK_DEFAULTS.wheelbaseM, exact, 'half of it on the axle');
      expectWithin(rollRad, heightM / 2 / DECK_DEFAULTS.trackWidthM, exact, 'half of it on the side');
      expectWithin(heaveM, heightM / 4, exact, 'a quarter of it on the deck');
    }
  });

  it('comes back after a turn, and after half a turn when it is oval', () => {
    const turnM = 2 * Math.PI * RADIUS_M;
    for (const [perTurn, share] of [
      [1, 1],
      [2, 0.5],
    ]) {
      const deck = deckWith('front', perTurn);
      expectWithin(deck.stateAt(0.1 + share * turnM).pitchRad, deck.stateAt(0.1).pitchRad, exact);
      expect(deck.stateAt(0.1 + (share / 2) * turnM).pitchRad).not.toBeCloseTo(deck.stateAt(0.1).pitchRad, 5);
    }
  });

  it('only heaves when all wheels stand alike', () => {
    const { pitchRad, rollRad, heaveM } = deckWith('all').stateAt(0.07);
    expectWithin(pitchRad, 0, exact);
    expectWithin(rollRad, 0, exact);
    expectWithin(heaveM, 0.0002 * Math.cos(0.07 / RADIUS_M + Math.PI / 6), exact);
  });
});

describe('a mount that rings', () => {
  it.each([
    [0.5, 0.03],
    [0.95, 0.03],
    [1, 0.02],
    [1.05, 0.05],
    [3, 0.03],
  ])('adds g r^2 / (1 - r^2 + 2 i z r) of a sine at %d times its frequency (damping %d)', (r, z) => {
    const [f0, gain] = [7, 0.4];
    const w = 2 * Math.PI * r * f0;
    const added = makeRinging(
      { freqHz: f0, dampingRatio: z, gain, axes: ['pitch'] },
      (t) => Math.sin(w * t),
      0,
      14,
    );
    const [re, im] = [1 - r * r, 2 * z * r];
    const scale = (gain * r * r) / (re * re + im * im);
    for (const timeS of [12.01, 12.07, 12.133, 13.9])
      expectWithin(added(timeS), scale * (re * Math.sin(w * timeS) - im * Math.cos(w * timeS)), {
        abs: 0.004 * scale * Math.hypot(re, im),
        why: 'what is left of the start after 12 s, and lines between steps',
      });
  });

  it('turns the camera with the deck and leaves the lens where the deck has it', () => {
    const given = { move: 'pushIn', driftDeg: 0, durationS: 2 } as const;
    const deck = { floor: { gdM3: 1e-6 } };
    const rigid = makeCameraPath(resolveSynthOptions({ ...given, deck }));
    const ringing = makeCameraPath(
      resolveSynthOptions({ ...given, deck: { ...deck, mount: { freqHz: 7, axes: ['pitch'] } } }),
    );
    const [a, b] = [rigid.poseAt(1.3), ringing.poseAt(1.3)];
    expect(Array.from(b.centre)).toEqual(Array.from(a.centre));
    const tilt = (pose: typeof a) => (pose.rotation[5] - pose.rotation[7]) / 2;
    const roll = (pose: typeof a) => (pose.rotation[1] - pose.rotation[3]) / 2;
    expect(Math.abs(tilt(b) - tilt(a))).toBeGreaterThan(1e-5);
    expectWithin(roll(b), roll(a), { abs: 1e-7, why: 'products of angles below a milliradian' });
  });
});

describe('a machine', () => {
  it('shakes the camera at exactly its frequency, on the axes it was given', () => {
    const path = makeCameraPath(
      resolveSynthOptions({
        move: 'static',
        driftDeg: 0,
        machines: [
          { freqHz: 31, amplitudeDeg: { tilt: 0.02 }, amplitudeMm: { vertical: 0.1 }, phaseDeg: 90 },
        ],
      }),
    );
    for (const timeS of [0, 0.01, 0.123, 3.3]) {
      const wave = Math.cos(2 * Math.PI * 31 * timeS);
      const { rotation, centre } = path.poseAt(timeS);
      const expected = rotationFromAngles(0, ((0.02 * Math.PI) / 180) * wave, 0);
      Array.from(rotation).forEach((v, i) => expectWithin(v, expected[i], { abs: 1e-12 }));
      expectWithin(centre[1], -0.0001 * wave, { abs: 1e-12 });
    }
  });

  it('needs 13 times frequency times exposure instants for the shutter to take its share within 1 %', () => {
    for (const [freqHz, exposureS] of [
      [31, 0.02],
      [60, 0.02],
      [31, 0.01],
    ]) {
      const samples = Math.ceil(13 * freqHz * exposureS);
      let mean = 0;
      for (let s = 0; s < samples; s++)
        mean += Math.cos(2 * Math.PI * freqHz * ((s + 0.5) / samples - 0.5) * exposureS) / samples;
      const gain = Math.sin(Math.PI * freqHz * exposureS) / (Math.PI * freqHz * exposureS);
      expectWithin(Math.abs(gain), exposureGain(freqHz, exposureS), { abs: 1e-12 });
      expectWithin(mean / gain, 1, { abs: 0.01, why: 'the rule that is tested' });
    }
  });
});

describe('lamps', () => {
  const lamps = { freqHz: 100, depth: 0.5 };

  it('flicker fully in an instant, not at all over whole periods, in part between', () => {
    const exact = { abs: 1e-12 };
    expectWithin(lampLight(lamps, 0.0025, 0), 1.5, exact);
    expectWithin(lampLight(lamps, 0.0025, 0.02), 1, exact);
    expectWithin(lampLight(lamps, 0.0025, 0.005), 1 + 0.5 * (2 / Math.PI), exact);
  });

  it('make the same light of a whole exposure as of its parts', () => {
    let sum = 0;
    for (let s = 0; s < 7; s++) sum += lampLight(lamps, 0.1 + ((s + 0.5) / 7 - 0.5) * 0.013, 0.013 / 7) / 7;
    expectWithin(sum, lampLight(lamps, 0.1, 0.013), { abs: 1e-12 });
  });

  it('draw bands across a picture that is read row by row, and none across one that is not', () => {
    const rows = 100;
    const bands = new Float32Array(2 * rows).fill(1);
    lightRows(bands, 2, lamps, 0.3, 0, 0.02);
    let crossings = 0;
    for (let row = 1; row < rows; row++) {
      expect(bands[2 * row]).toBe(bands[2 * row + 1]);
      if (bands[2 * row] > 1 !== bands[2 * (row - 1)] > 1) crossings++;
    }
    expect(crossings).toBeGreaterThanOrEqual(3);
    expect(crossings).toBeLessThanOrEqual(4);
    const even = new Float32Array(2 * rows).fill(1);
    lightRows(even, 2, lamps, 0.3025, 0, 0);
    expect(new Set(even)).toEqual(new Set([1.5]));
  });

  it('light each frame of a clip by its own instant', () => {
    const given = {
      widthPx: 32,
      heightPx: 18,
      fps: 24,
      durationS: 0.5,
      noiseGrey: 0,
      colour: false,
    } as const;
    const steady = startFilm(resolveSynthOptions(given));
    const flickering = startFilm(resolveSynthOptions({ ...given, lamps: { freqHz: 100, depth: 0.5 } }));
    const mean = (bytes: Uint8Array) => bytes.reduce((sum, v) => sum + v, 0) / bytes.length;
    for (const frame of [1, 5]) {
      const light = 1 + 0.5 * Math.sin((2 * Math.PI * 100 * frame) / 24);
      expectWithin(mean(flickering.frame(frame)) / mean(steady.frame(frame)), light, {
        abs: 0.03,
        why: 'levels are rounded and end at white',
      });
    }
  });
});

describe('what is written of causes', () => {
  const options = resolveSynthOptions({
    ...{ fps: 25, speedMps: 0.25, speedWander: 0, durationS: 1, widthPx: 16, heightPx: 16 },
    machines: [{ freqHz: 31, amplitudeDeg: { tilt: 0.01 } }],
    lamps: { freqHz: 120 },
    deck: {
      wheelRadiusM: 0.05,
      lobes: [{ amplitudeMm: 0.1 }, { amplitudeMm: 0.1, perTurn: 3, wheel: 'rearLeft' }],
      mount: { freqHz: 7.1 },
      floor: { joints: { spacingM: 0.5, lippageMm: 0 } },
    },
  });

  it('the truth lists all with the frequencies that frames show', () => {
    const turnsPerS = 0.25 / (2 * Math.PI * 0.05);
    const { causes } = truthOf(startFilm(options));
    expect(causes.map(({ cause, order }) => [cause, order])).toEqual([
      ['wheel', 1],
      ['wheel', 3],
      ['joint', 1],
      ['machine', 1],
      ['mount', 1],
      ['lamp', 1],
    ]);
    [turnsPerS, 3 * turnsPerS, 0.5, 31, 7.1, 120].forEach((freqHz, i) =>
      expectWithin(causes[i].freqHz, freqHz, { abs: 1e-9 }, causes[i].cause),
    );
    [turnsPerS, 3 * turnsPerS, 0.5, 6, 7.1, 5].forEach((seenHz, i) =>
      expectWithin(causes[i].seenHz, seenHz, { abs: 1e-9 }, causes[i].cause),
    );
  });

  it('the rig says what a crew knows: sizes, machines, mains, but not what is wrong', () => {
    const rig = rigOf(options, 0.25);
    expect(rig).toMatchObject({ wheelDiameterM: 0.1, jointSpacingM: 0.5, machinesHz: [31], mainsHz: 60 });
    expect(rig).not.toHaveProperty('mountHz');
    expect(rigOf(resolveSynthOptions(), 1)).not.toHaveProperty('machinesHz');
  });

  it.each([
    [{ deck: { lobes: [{ amplitudeMm: 0.1, wheel: 'spare' as 'all' }] } }, /wheel/],
    [{ deck: { lobes: [{ amplitudeMm: 0.1, perTurn: 1.5 }] } }, /perTurn/],
    [{ deck: { lobes: [{ amplitudeMm: NaN }] } }, /amplitudeMm/],
    [{ deck: { mount: { freqHz: 0 } } }, /freqHz/],
    [{ deck: { mount: { freqHz: 7, dampingRatio: 0 } } }, /dampingRatio/],
    [{ machines: [{ freqHz: -1 }] }, /machines freqHz/],
    [{ lamps: { freqHz: 100, depth: 2 } }, /depth/],
  ])('causes that cannot be are refused by name: %j', (given, rule) => {
    expect(() => resolveSynthOptions(given)).toThrow(rule);
  });
});
