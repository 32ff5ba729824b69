import { describe, expect, it } from 'vitest';
import type { SurfaceSection } from '../../../src/run/index.js';
import { floorFromSurface, type StoredSurface } from '../../../src/surface/predict/floor-from-surface.js';
import { expectWithin } from '../../support/expect-within.js';

const STORED: StoredSurface = {
  atMost: false,
  parts: {
    meanTrackM3: 5e-7,
    differenceM3: 2e-6,
    sdLn: 0.12,
    contactCyclesPerM: 90,
    speedMps: 0.25,
  },
  wavelengthsM: [0.02, 0.31],
  waviness: 1.9,
  wavinessCi95: [1.7, 2.1],
  profile: { distanceM: [0.1, 0.11, 5.1] },
  bumps: [
    {
      kind: 'joint',
      atM: 1.83,
      heightMm: 1.2,
      heightRangeMm: 0.196,
      leftMm: 1.5,
      rightMm: 0.9,
      lengthM: 0,
    },
    {
      kind: 'dip',
      atM: 2.4,
      heightMm: -0.2,
      heightRangeMm: 0.1,
      leftMm: null,
      rightMm: null,
      lengthM: 0.006,
    },
  ],
};

describe('a floor from a stored run', () => {
  it('holds levels, waves and events in metres', () => {
    const floor = floorFromSurface(STORED)!;
    expect(floor.meanTrackM3).toBe(5e-7);
    expect(floor.wavelengthsM).toEqual([0.02, 0.31]);
    expect(floor.runLengthM).toBe(5);
    expectWithin(floor.waviness!.sd, 0.1, { rel: 0.03, why: '1.96 sd on either side' });
    const [joint, dip] = floor.events;
    expectWithin(joint.heightM, 1.2e-3, { rel: 1e-9, why: 'rounding' });
    expectWithin(joint.heightSdM, 1e-4, { rel: 1e-9, why: 'half of the 95 % range is 1.96 sd' });
    expectWithin(joint.differenceM!, 6e-4, { rel: 1e-9, why: 'rounding' });
    expect(dip.differenceM).toBeNull();
  });

  it('takes the length of the run as told, from the profile, or as ten seconds', () => {
    expect(floorFromSurface(STORED, { runLengthM: 7 })!.runLengthM).toBe(7);
    expect(floorFromSurface({ ...STORED, profile: null })!.runLengthM).toBe(2.5);
  });

  it('is none when the run found no level or only a bound', () => {
    expect(floorFromSurface({ ...STORED, parts: null })).toBeNull();
    expect(floorFromSurface({ ...STORED, atMost: true })).toBeNull();
    expect(floorFromSurface({ ...STORED, wavelengthsM: null })).toBeNull();
  });

  it('reads what run documents hold, refused surfaces too', () => {
    const refused: Pick<SurfaceSection, keyof StoredSurface> = {
      atMost: false,
      parts: null,
      wavelengthsM: null,
      waviness: null,
      wavinessCi95: null,
      profile: null,
      bumps: [],
    };
    expect(floorFromSurface(refused)).toBeNull();
  });
});
