/** Joints, steps and wheels of a rigid deck against computed cases (worked.json, case named in each title). */
import { describe, expect, it } from 'vitest';
import { findJointRow } from '../../src/surface/events/joint-row.js';
import { listEvents } from '../../src/surface/events/list-events.js';
import { deckResponse, shiftPx } from '../../src/surface/events/picture-shift.js';
import type { RolledDeck } from '../../src/surface/deck/rolled-deck.js';
import { expectWithin } from '../support/expect-within.js';
import { deckOverEvents } from '../surface/events/deck-over-events.js';
import { scanned, withFlatSpot } from '../surface/events/joint-row-scan.js';
import { workedCase } from '../support/worked-case.js';

const ONE_PERCENT = { rel: 0.01, why: 'asked of the spacing of a row' };

describe('rows of joints', () => {
  it('come by v / spacing times a second (joint-frequency)', () => {
    const cases = workedCase<{ pitch_mm: number; v_mps: number; f_Hz: number }[]>('joint-frequency').expected;
    const rolled = cases.filter(({ pitch_mm, v_mps }) => v_mps === 0.5 && pitch_mm >= 300 && pitch_mm < 1000);
    expect(rolled).toHaveLength(2);
    for (const { pitch_mm, v_mps, f_Hz } of rolled) {
      const plates = { lengthM: pitch_mm / 1000, stepRmsM: 0.4e-3, gapM: 0.004 };
      const { deck } = deckOverEvents({ seed: 3, gdM3: 6e-8, speedMps: v_mps, durationS: 8, plates });
      const { scan, found } = scanned(deck, 6e-8);
      const row = findJointRow(scan, found, { deck });
      const times = listEvents({ scan, found, row, deck })
        .filter(({ kind, atM }) => kind === 'joint' && atM > deck.frontAheadM)
        .map(({ atS }) => atS)
        .sort((a, b) => a - b);
      const perSecond = (times.length - 1) / (times[times.length - 1] - times[0]);
      expectWithin(perSecond, f_Hz, ONE_PERCENT, `${pitch_mm} mm`);
    }
  });

  it('are no flat spots of a wheel, which come every pi D (wheel-rotation)', () => {
    const cases =
      workedCase<{ D_mm: number; v_mps: number; lobes: number; wavelength_mm: number }[]>(
        'wheel-rotation',
      ).expected;
    for (const { v_mps, wavelength_mm } of cases.filter(({ D_mm, lobes }) => D_mm === 100 && lobes < 3)) {
      const clean = deckOverEvents({ seed: 3, gdM3: 6e-8, speedMps: v_mps, durationS: 7 }).deck;
      const kick = { turnM: wavelength_mm / 1000, heightM: 0.3e-3, lengthM: 0.03, axles: 'rear' } as const;
      const deck = withFlatSpot(clean, kick);
      const { scan, found } = scanned(deck, 6e-8);
      // Without the deck the kicks of one axle pass for joints, at the way of a turn.
      expectWithin(findJointRow(scan, found)!.spacingM * 1000, wavelength_mm, ONE_PERCENT);
      expect(findJointRow(scan, found, { deck })).toBeNull();
    }
  });
});

describe('a rigid deck of 0.6 m wheelbase', () => {
  const { deck: other } = deckOverEvents({ seed: 1, gdM3: 6e-8, speedMps: 0.5, durationS: 4 });
  const deck: RolledDeck = { ...other, wheelbaseM: 0.6, frontAheadM: 0.6 };
  const exact = { rel: 1e-8, why: 'digits of the case' };

  it('is pitched by a step as long as one axle stands on it (step-response-rigid)', () => {
    const { pitch_jump_mrad, pitch_duration_m, px_at_f1600 } = workedCase<{
      pitch_jump_mrad: number;
      pitch_duration_m: number;
      px_at_f1600: number;
    }>('step-response-rigid').expected;
    const step = { placeM: 1, shape: 'step', lengthM: 0, meanM: 1e-3, differenceM: null } as const;
    const { pitchRad } = deckResponse(step, deck, 1);
    const jump = Math.max(...pitchRad);
    expectWithin(jump * 1e3, pitch_jump_mrad, exact);
    const frames = pitchRad.filter((pitch) => pitch > jump / 2).length;
    expectWithin((frames * 0.5) / 25, pitch_duration_m, { abs: 0.021, why: 'way in one frame, 20 mm' });
    expectWithin(shiftPx([0, 0], jump, 0, 1600)[1], px_at_f1600, exact);
  });

  it('turns the wave it is pitched by into pixels (pitch-to-pixels)', () => {
    const { pitch_amp_mrad, px_amp } = workedCase<{ pitch_amp_mrad: number; px_amp: number }>(
      'pitch-to-pixels',
    ).expected;
    expectWithin(shiftPx([0, 0], pitch_amp_mrad / 1e3, 0, 1600)[1], px_amp, exact);
  });
});
