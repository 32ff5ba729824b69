import { describe, expect, it } from 'vitest';
import { gradedPass, share, type Graded } from './graded-pass.js';

const HUM = { rmsMdeg: 5, freqHz: 7.3 };
const JOINTS = { spacingM: 0.6, lippageM: 0.2e-3 / Math.SQRT2, gapWidthM: 3e-3, gapDepthM: 1.5e-3 };

describe('a motor that hums a tone', () => {
  const humming = [
    gradedPass({ seed: 42, gdM3: 6e-8, line: HUM }),
    gradedPass({ seed: 43, gdM3: 6e-8, speedMps: 0.5, line: HUM }),
  ];
  const overJoints = gradedPass({ seed: 44, gdM3: 6e-8, line: HUM, joints: JOINTS });

  it('makes no list of bumps and no row of joints: a tone is none', () => {
    for (const { name, detail, falseEvents } of [...humming, overJoints]) {
      // One line is what chance may give in the 10 m of a pass.
      expect(falseEvents.length, name).toBeLessThanOrEqual(1);
      expect(detail.row === null, name).toBe(detail !== overJoints.detail);
    }
  });

  it('leaves the class and the joints as they are, and is named with its frequency', () => {
    const heard = ({ grade }: Graded) =>
      grade.lines.some(({ channel, freqHz }) => channel === 'pitch' && Math.abs(freqHz - HUM.freqHz) < 0.15);
    for (const pass of [...humming, overJoints]) {
      expect(pass.classRight, pass.name).toBe(true);
      expect(heard(pass), pass.name).toBe(true);
    }
    expect(Math.abs(overJoints.detail.row!.spacingM / JOINTS.spacingM - 1)).toBeLessThan(0.01);
    expect(share(overJoints.joints, ({ listed }) => listed !== null)).toBeGreaterThanOrEqual(0.9);
  });
});

describe('a machine that shakes at all frequencies', () => {
  const shaken = gradedPass({ seed: 45, gdM3: 1e-6, speedMps: 0.5, shakeMdeg: 10 });
  const shakenOverJoints = gradedPass({
    seed: 46,
    gdM3: 1e-6,
    shakeMdeg: 10,
    joints: { ...JOINTS, lippageM: 0.5e-3 },
  });

  it('bounds the floor and does not name its class', () => {
    for (const { grade, lnError, name } of [shaken, shakenOverJoints]) {
      expect(grade.atMost, name).toBe(true);
      expect(lnError, name).toBeGreaterThan(0);
    }
  });

  it('does not fill the list of bumps', () => {
    expect(shaken.detail.events.length).toBeLessThanOrEqual(1);
    expect(shaken.detail.row).toBeNull();
    expect(shakenOverJoints.falseEvents.length).toBeLessThanOrEqual(1);
  });

  it('does not hide joints that stand out of it', () => {
    expect(share(shakenOverJoints.joints, ({ listed }) => listed !== null)).toBeGreaterThanOrEqual(0.8);
  });
});
