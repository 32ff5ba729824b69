import { describe, expect, it } from 'vitest';
import type { Rig } from '../../../src/run/index.js';
import type { PassOptions } from '../support/made-up-pass.js';
import { falsePerTenMetres, gradedPass, listedInPlace, share } from './graded-pass.js';

const JOINTS = { spacingM: 0.6, lippageM: 0.2e-3 / Math.SQRT2, gapWidthM: 3e-3, gapDepthM: 1.5e-3 };

interface Other {
  readonly name: string;
  readonly options: PassOptions;
  readonly rig?: Partial<Rig>;
}

const PASSES: readonly Other[] = [
  { name: '40 s, solved in stretches', options: { seed: 51, gdM3: 1e-6, durationS: 40 } },
  { name: '0.1 m/s', options: { seed: 52, gdM3: 1e-6, speedMps: 0.1, durationS: 24 } },
  { name: '50 frames a second', options: { seed: 53, gdM3: 1e-6, speedMps: 0.5, fps: 50, durationS: 14 } },
  {
    name: 'the lens sideways',
    options: { seed: 54, gdM3: 1e-6, azimuthDeg: 90 },
    rig: { lensAzimuthDeg: 90 },
  },
];

const passes = PASSES.map(({ name, options, rig = {} }) => ({
  name,
  pass: gradedPass({ ...options, joints: JOINTS }, rig),
}));

describe.each(passes)('a floor of joints every 0.6 m rolled over with $name', ({ pass }) => {
  it('has its class', () => {
    expect(pass.classRight).toBe(true);
    expect(Math.abs(pass.lnError)).toBeLessThan(0.35);
    expect(Math.abs(pass.lnError)).toBeLessThan(1.96 * pass.grade.sdLn);
  });

  it('has its row', () => {
    expect(Math.abs(pass.detail.row!.spacingM / JOINTS.spacingM - 1)).toBeLessThan(0.01);
  });

  it('has a profile', () => {
    expect(pass.profile!.errorShare).toBeLessThan(0.35);
    expect(pass.profile!.correlation).toBeGreaterThan(0.93);
  });
});

describe('all of these passes together', () => {
  it('have nine joints of ten on their lists, in their places', () => {
    const inPlace = passes.flatMap(({ pass }) => pass.joints.map((joint) => listedInPlace(pass, joint)));
    expect(share(inPlace, (is) => is)).toBeGreaterThanOrEqual(0.9);
  });

  it('have no more false lines than three in twenty metres', () => {
    expect(falsePerTenMetres(passes.map(({ pass }) => pass))).toBeLessThanOrEqual(1.5);
  });
});
