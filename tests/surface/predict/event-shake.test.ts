import { describe, expect, it } from 'vitest';
import { eventShake } from '../../../src/surface/predict/event-shake.js';
import type { PredictedEvent, SetupForPrediction } from '../../../src/surface/predict/types.js';
import { expectWithin } from '../../support/expect-within.js';
import { PLAIN_FLOOR, PRESENT } from './predict-support.js';

const STEP: PredictedEvent = {
  kind: 'step',
  atM: 3,
  heightM: 1e-3,
  heightSdM: 0,
  differenceM: 5e-4,
  lengthM: 0,
};

function shakeOf(events: readonly PredictedEvent[], setup: SetupForPrediction = PRESENT) {
  const shake = eventShake({ ...PLAIN_FLOOR, events }, setup, PLAIN_FLOOR.contactCyclesPerM);
  if (shake === null) throw new Error('run too short');
  return shake;
}

function largestAt(values: Float64Array): number {
  return values.reduce((best, value, i) => (Math.abs(value) > Math.abs(values[best]) ? i : best), 0);
}

/** Largest change between frames, signed, over a stretch. */
function jump(values: Float64Array, fromFrame: number, toFrame: number): number {
  let most = 0;
  for (let i = fromFrame; i + 2 < toFrame; i++) {
    const change = values[i + 2] - values[i];
    if (Math.abs(change) > Math.abs(most)) most = change;
  }
  return most;
}

const TRIM = 12.5;
const frameAt = (placeM: number): number => Math.round((placeM / PRESENT.speedMps) * PRESENT.rateHz - TRIM);

describe('the shake of joints and bumps', () => {
  it('lifts the nose when the front axle climbs a step and lets it down when the rear axle follows', () => {
    const { pitchRad } = shakeOf([STEP]);
    const front = frameAt(STEP.atM - PRESENT.wheelbaseM);
    const rear = frameAt(STEP.atM);
    const expected = STEP.heightM / PRESENT.wheelbaseM;
    const why = 'the rise along the wheel takes a frame, and the high-pass bends the flat parts';
    expectWithin(jump(pitchRad, front - 4, front + 5), expected, { rel: 0.15, why });
    expectWithin(jump(pitchRad, rear - 4, rear + 5), -expected, { rel: 0.15, why });
  });

  it('tilts the deck by left minus right over the track width, half for each axle', () => {
    const { rollRad } = shakeOf([STEP]);
    const front = frameAt(STEP.atM - PRESENT.wheelbaseM);
    const expected = STEP.differenceM! / 2 / PRESENT.trackWidthM!;
    expectWithin(jump(rollRad!, front - 4, front + 5), expected, { rel: 0.15, why: 'as for pitch' });
  });

  it('lets a wheel twice as large sink half as deep into a gap, and climb a bump as before', () => {
    const large = { ...PRESENT, wheel: { diameterFactor: 2, contactCyclesPerM: null, contactFactor95: 2 } };
    const most = (kind: 'dip' | 'bump', setup: SetupForPrediction): number => {
      const { pitchRad } = shakeOf(
        [{ ...STEP, kind, heightM: kind === 'dip' ? -2e-4 : 1e-3, lengthM: 0.04 }],
        setup,
      );
      return Math.abs(pitchRad[largestAt(pitchRad)]);
    };
    const why = 'the contact is a little softer with it';
    expectWithin(most('dip', large) / most('dip', PRESENT), 0.5, { rel: 0.02, why });
    expectWithin(most('bump', large) / most('bump', PRESENT), 1, { rel: 0.02, why });
  });

  it('is smaller on a soft contact and with a longer exposure', () => {
    const dip: PredictedEvent = { ...STEP, kind: 'dip', heightM: -2e-4, lengthM: 0.01 };
    const most = (contact: number, setup = PRESENT): number => {
      const { pitchRad } = eventShake({ ...PLAIN_FLOOR, events: [dip] }, setup, contact)!;
      return Math.abs(pitchRad[largestAt(pitchRad)]);
    };
    expect(most(18)).toBeLessThan(0.7 * most(110));
    expect(most(110, { ...PRESENT, exposureS: 0.04 })).toBeLessThan(
      0.95 * most(110, { ...PRESENT, exposureS: 0.01 }),
    );
  });

  it('says nothing of roll without a track width, or when the list shows no sides', () => {
    expect(shakeOf([STEP], { ...PRESENT, trackWidthM: null }).rollRad).toBeNull();
    expect(shakeOf([{ ...STEP, differenceM: null }]).rollRad).toBeNull();
  });

  it('is nothing without events, and null on a run of a blink', () => {
    expect(shakeOf([]).pitchRad.every((value) => value === 0)).toBe(true);
    expect(eventShake({ ...PLAIN_FLOOR, runLengthM: 0.1, events: [STEP] }, PRESENT, 110)).toBeNull();
  });
});
