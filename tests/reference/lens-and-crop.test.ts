import { describe, it } from 'vitest';
import type { AngularAxis } from '../../src/run/index.js';
import { cropAtFocal } from '../../src/stabilise/index.js';
import { plainCamera } from '../optics/support/plain-camera.js';
import { sineOn } from '../stabilise/support/shakes.js';
import { expectWithin } from '../support/expect-within.js';

/** A tenth of a degree on one axis, in a picture 1920 wide; focal length as a multiple of the width. */
const cropAt = (axis: AngularAxis, focalPerWidth: number): number =>
  cropAtFocal(sineOn(axis, Math.PI / 1800), plainCamera(1920, 1080, 1920), 9 / 16, focalPerWidth).cropPercent;

describe('longer lenses', () => {
  // Common practice, no source.
  it('need more crop for the same shake in pan and tilt, in proportion to the focal length', () => {
    for (const axis of ['pan', 'tilt'] as const)
      expectWithin(cropAt(axis, 4) / cropAt(axis, 2), 2, {
        rel: 0.06,
        why: 'tan over angle at the edge of the picture',
      });
  });

  // Common practice, no source.
  it('need no more crop for the same roll', () => {
    expectWithin(cropAt('roll', 4), cropAt('roll', 1), { rel: 1e-9, why: 'double rounding' });
  });
});
