import { describe, expect, it } from 'vitest';
import { gradeSurface, surfaceClass } from '../../../src/surface/index.js';
import { contactSmearM } from '../../../src/surface/events/contact-smear.js';
import { expectWithin } from '../../support/expect-within.js';
import { madeUpPassWithTruth, madeUpRig } from '../support/made-up-pass.js';

const SPEED_MPS = 0.25;
/** Joints of half a millimetre every 0.6 m under tyres with a contact of 45 mm. */
const SOFT = {
  gdM3: 1e-6,
  speedMps: SPEED_MPS,
  durationS: 16,
  wheelRadiusM: 0.1,
  patchM: 0.045,
  joints: { spacingM: 0.6, lippageM: 3.5e-4, gapWidthM: 0.004, gapDepthM: 0.002 },
} as const;

describe('a soft tyre over joints', () => {
  it.each([1, 2, 3])('keeps the class of the floor, and finds the row with few ghosts (seed %d)', (seed) => {
    const { motion, truth } = madeUpPassWithTruth({ ...SOFT, seed });
    const { grade, detail } = gradeSurface(motion, madeUpRig(SPEED_MPS), { interCoded: false });
    expect(grade!.atMost).toBe(false);
    expect(surfaceClass(grade!.gdM3).name).toBe('A-2');
    expectWithin(detail!.row!.spacingM, 0.6, { rel: 0.01, why: 'asked of a row' });
    const places = truth.joints.map(({ atM }) => atM);
    const near = (atM: number): boolean => places.some((place) => Math.abs(place - atM) < 0.03);
    expect(detail!.events.filter(({ atM }) => !near(atM)).length).toBeLessThanOrEqual(3);
    const found = places.filter((place) => detail!.events.some(({ atM }) => Math.abs(atM - place) < 0.03));
    expect(found.length / places.length).toBeGreaterThanOrEqual(0.7);
  });
});

describe('what a contact smears beyond a hard wheel', () => {
  it('is nothing for a hard wheel, and the box of its bell for a softer one', () => {
    expect(contactSmearM(250)).toBe(0);
    // A bell of standard deviation sqrt(ln 2) / (2 pi n) has half power at n; a box of width w has w / sqrt(12).
    expectWithin(contactSmearM(30), Math.sqrt(12 * Math.LN2) / (2 * Math.PI * 30) - 0.004, { abs: 1e-12 });
  });

  it('is bounded where noise hides the contact', () => expect(contactSmearM(4)).toBe(0.02));
});
