/** What changes of a pass do by themselves: refusals in plain words, a mount that keeps ringing, several changes at once. */
import { describe, expect, it } from 'vitest';
import { mountGain } from '../../../src/judge/changes/mount-gain.js';
import { scaledVibration, withVibration } from '../../../src/judge/changes/with-vibration.js';
import { applyChange, applyChanges, isRefused, type PassChange } from '../../../src/judge/index.js';
import { AXES } from '../../../src/run/index.js';
import { expectWithin } from '../../support/expect-within.js';
import { rolledPass } from '../advice/support/rolled-pass.js';

const PASS = rolledPass({ seed: 3, speedMps: 0.2, durationS: 10 });
const refusal = (pass: typeof PASS, change: PassChange): string => {
  const answer = applyChange(pass, change);
  return isRefused(answer) ? answer.refused : 'foretold';
};

describe('a change that cannot be foretold', () => {
  it('says what to give', () => {
    const bare = { ...PASS, floor: null, rig: { ...PASS.rig, speedMps: undefined } };
    expect(refusal(bare, { what: 'speed', speedMps: 0.3 })).toContain('give the speed or the travel');
    expect(refusal(bare, { what: 'wheelbase', wheelbaseM: 0.6 })).toContain(
      'give speed or travel and the wheelbase',
    );
    expect(refusal(bare, { what: 'shim', bumps: [0] })).toContain('was not graded');
    expect(refusal(PASS, { what: 'shim', bumps: [99] })).toContain('No such joint');
    expect(refusal(PASS, { what: 'silence', sources: [0] })).toContain('Nothing of that source');
    expect(refusal(PASS, { what: 'speed', speedMps: 1 })).toContain('too quickly');
    expect(refusal(PASS, { what: 'speed', speedMps: 0.01 })).toContain('holds nothing');
    const unknownWheel = {
      ...PASS,
      floor: { ...PASS.floor!, present: { ...PASS.floor!.present, wheelDiameterM: null } },
    };
    expect(refusal(unknownWheel, { what: 'wheel', diameterM: 0.2 })).toContain('--wheel-diameter');
    const bounded = {
      ...PASS,
      sections: { ...PASS.sections, surface: { ...PASS.sections.surface, atMost: true } },
    };
    expect(refusal(bounded, { what: 'wheelbase', wheelbaseM: 0.6 })).toContain('no more than a bound');
  });

  it('is a wrong call with a speed that is none', () => {
    expect(() => applyChange(PASS, { what: 'speed', speedMps: -1 })).toThrow(RangeError);
  });
});

describe('several changes at once', () => {
  it('do not depend on the order in which they are named', () => {
    const changes: PassChange[] = [
      { what: 'speed', speedMps: 0.25 },
      { what: 'wheelbase', wheelbaseM: 0.6 },
    ];
    expect(applyChanges(PASS, changes)).toEqual(applyChanges(PASS, [...changes].reverse()));
  });

  it('are refused when one of them is', () => {
    const answer = applyChanges(PASS, [
      { what: 'speed', speedMps: 0.25 },
      { what: 'shim', bumps: [99] },
    ]);
    expect(isRefused(answer)).toBe(true);
  });

  it('shim nothing that lies under boards', () => {
    const boards: PassChange = { what: 'smoothSurface', psdM3: 2.5e-7 };
    expect(applyChanges(PASS, [boards, { what: 'shim', bumps: [0] }])).toEqual(applyChanges(PASS, [boards]));
  });

  it('leave the pass alone that they start from', () => {
    const before = Float64Array.from(PASS.motion.vibration.tilt);
    applyChanges(PASS, [
      { what: 'speed', speedMps: 0.25 },
      { what: 'wheel', tyre: 'soft' },
    ]);
    expect(PASS.motion.vibration.tilt).toEqual(before);
  });
});

describe('another vibration on the same move', () => {
  it('doubles every figure when all of it is doubled', () => {
    const doubled = scaledVibration(PASS.motion, () => 2);
    for (const axis of AXES) {
      const { rawRms, peakToPeak, maximum } = PASS.motion.axes[axis];
      expectWithin(doubled.axes[axis].rawRms, 2 * rawRms, { rel: 1e-9, why: 'rounding' });
      expectWithin(doubled.axes[axis].peakToPeak, 2 * peakToPeak, { rel: 1e-9, why: 'rounding' });
      expectWithin(doubled.axes[axis].maximum, 2 * maximum, { rel: 1e-9, why: 'rounding' });
    }
    expect(doubled.intended).toBe(PASS.motion.intended);
  });

  it('is the very motion when nothing is changed', () => {
    expect(withVibration(PASS.motion, PASS.motion.vibration)).toBe(PASS.motion);
    expect(scaledVibration(PASS.motion, () => 1)).toBe(PASS.motion);
  });
});

describe('the gain of a mount', () => {
  const mount = { freqHz: 7, damping: 0.05, axes: ['tilt'] as const };

  // Transmissibility of a spring and damper, textbook formula (Den Hartog, Mechanical Vibrations, from memory): 1 at rest,
  // sqrt(1 + 4 z^2) / (2 z) on resonance, 1 at sqrt 2 times the resonance whatever the damping.
  it('is that of a mass on a spring and damper', () => {
    expectWithin(mountGain(mount, 0), 1, { abs: 1e-12, why: 'rounding' });
    expectWithin(mountGain(mount, 7), Math.sqrt(1 + 0.01) / 0.1, { rel: 1e-9, why: 'rounding' });
    expectWithin(mountGain(mount, 7 * Math.SQRT2), 1, { abs: 1e-9, why: 'rounding' });
    expect(mountGain(mount, 20)).toBe(1);
  });
});
