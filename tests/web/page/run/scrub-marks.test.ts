/** Marks of the scrubber stand where their frames are: joints and bumps, and the frame that decides the crop. */
import { describe, expect, it } from 'vitest';
import { exactCrop } from '../../../../src/stabilise/index.js';
import { decidingTimeS, scrubMarks } from '../../../../src/web/page/run/player/scrub-marks.js';
import { JOINT_AT_S } from '../../../report/support/made-up-motion.js';
import { madeUpBundle } from '../../../report/support/made-up-bundle.js';
import { expectWithin } from '../../../support/expect-within.js';

const { run, stabilisation } = madeUpBundle();

describe('marks along the scrubber', () => {
  it('stand at their share of the time between the first and the last frame, in order', () => {
    const bumps = [
      { ...run.surface.bumps[0], atS: 8 },
      { ...run.surface.bumps[0], atS: 5 },
    ];
    expect(scrubMarks({ bumps }, 6, [4, 5, 12])).toEqual([
      { kind: 'bump', atS: 5, share: 0.125 },
      { kind: 'deciding', atS: 6, share: 0.25 },
      { kind: 'bump', atS: 8, share: 0.5 },
    ]);
  });

  it('are left out where they lie outside of the frames, and without frames', () => {
    const bumps = [{ ...run.surface.bumps[0], atS: 3 }];
    expect(scrubMarks({ bumps }, null, [4, 5])).toEqual([]);
    expect(scrubMarks({ bumps }, 3, [3])).toEqual([]);
    expect(scrubMarks({ bumps }, 3, [])).toEqual([]);
  });

  it('name the frame with the largest crop as the one that decides', () => {
    const { timeS, corrections, camera, zoom, delivery } = stabilisation;
    const shape = delivery.heightPx / delivery.widthPx;
    const atS = decidingTimeS({ timeS, corrections, camera, zoom, shape });
    const { halfWidthShare } = exactCrop(corrections, camera, shape);
    expect(atS).toBe(timeS[halfWidthShare.indexOf(Math.min(...halfWidthShare))]);
    // The made-up pass is kicked by one joint, and that frame needs the largest window.
    expectWithin(atS ?? NaN, JOINT_AT_S, { abs: 0.5, why: 'the kick rings for half a second' });
  });

  it('name no frame where nothing is taken out', () => {
    const still = new Float64Array(3);
    const corrections = { vibration: { pan: still, tilt: still, roll: still }, rows: null };
    const { camera } = stabilisation;
    expect(
      decidingTimeS({ timeS: Float64Array.of(0, 1, 2), corrections, camera, zoom: 1, shape: 9 / 16 }),
    ).toBeNull();
  });
});
