import { describe, expect, it } from 'vitest';
import {
  deckResponse,
  pictureShiftPx,
  shiftPx,
  type PictureView,
} from '../../../src/surface/events/picture-shift.js';
import { expectWithin } from '../../support/expect-within.js';
import { deckOverEvents } from './deck-over-events.js';

const { deck } = deckOverEvents({ seed: 1, gdM3: 1e-6, speedMps: 0.5, durationS: 4 });
const VIEW: PictureView = { focalPx: 1600, widthPx: 1921, heightPx: 1081, azimuthRad: 0, medianDepthM: null };
const STEP = { placeM: 1, shape: 'step', lengthM: 0, meanM: 1e-3, differenceM: null } as const;

describe('what an event does to the picture', () => {
  it('is a pitch of h / L while one axle is over a step, and a lift that stays', () => {
    const { pitchRad, heaveM, rateHz } = deckResponse(STEP, deck, 1);
    expectWithin(Math.max(...pitchRad), 1e-3 / 0.45, { rel: 1e-9, why: 'closed form' });
    const up = pitchRad.filter((pitch) => pitch > 0.5e-3 / 0.45).length / rateHz;
    expectWithin(up, 0.45 / 0.5, { abs: 1 / rateHz, why: 'one frame' }, 'time with one axle up');
    expectWithin(heaveM[heaveM.length - 1], 1e-3, { rel: 1e-9, why: 'closed form' });
    expectWithin(pitchRad[pitchRad.length - 1], 0, { abs: 1e-12, why: 'both axles up' });
  });

  it('is a roll of half the difference over the track width per axle', () => {
    const { rollRad } = deckResponse({ ...STEP, meanM: 0, differenceM: 1e-3 }, deck, 1);
    expectWithin(rollRad[rollRad.length - 1], 1e-3 / 0.4, { rel: 1e-9, why: 'closed form' });
    const half = rollRad.filter((roll) => Math.abs(roll - 1e-3 / 0.8) < 1e-9).length;
    expect(half).toBeGreaterThan(15);
  });

  it('is less than the kick itself by the part that is slower than the vibration band, and grows with height and focal length', () => {
    const kickPx = (1600 * 1e-3) / 0.45;
    const corner = shiftPx([960, 540], 1e-3 / 0.45, 0, 1600);
    const shift = pictureShiftPx(STEP, deck, VIEW);
    expect(shift).toBeGreaterThan(0.5 * kickPx);
    expect(shift).toBeLessThan(Math.hypot(...corner));
    const twice = { rel: 1e-9, why: 'linear' };
    expectWithin(pictureShiftPx({ ...STEP, meanM: 2e-3 }, deck, VIEW), 2 * shift, twice);
    expect(pictureShiftPx(STEP, deck, { ...VIEW, focalPx: 3200 })).toBeGreaterThan(1.7 * shift);
    expect(pictureShiftPx(STEP, deck, { ...VIEW, cutoffHz: 0.3 })).toBeGreaterThan(shift);
  });

  it('is a roll of the picture for a lens that looks sideways: nothing in the middle, half the frame width at its edge', () => {
    const ahead = pictureShiftPx(STEP, deck, { ...VIEW, widthPx: 3, heightPx: 3 });
    const sideways = pictureShiftPx(STEP, deck, {
      ...VIEW,
      widthPx: 3,
      heightPx: 3,
      azimuthRad: Math.PI / 2,
    });
    expect(sideways).toBeLessThan(0.01 * ahead);
    const whole = pictureShiftPx(STEP, deck, { ...VIEW, azimuthRad: Math.PI / 2 });
    expectWithin(whole / ahead, Math.hypot(960, 540) / 1600, { rel: 0.01, why: 'corner over focal length' });
  });

  it('counts the lift against a near subject only where its distance is known', () => {
    const far = pictureShiftPx(STEP, deck, { ...VIEW, medianDepthM: 1e6 });
    expectWithin(far, pictureShiftPx(STEP, deck, VIEW), { rel: 1e-4, why: 'no parallax far away' });
    expect(pictureShiftPx(STEP, deck, { ...VIEW, medianDepthM: 0.5 })).not.toBeCloseTo(far, 2);
  });

  it('does not hang on where in the clip the event lies', () => {
    const early = pictureShiftPx({ ...STEP, placeM: 0.05 }, deck, VIEW);
    expectWithin(early, pictureShiftPx({ ...STEP, placeM: 2.3 }, deck, VIEW), {
      rel: 1e-9,
      why: 'even speed',
    });
  });
});
