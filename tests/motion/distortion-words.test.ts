/** What is told of a lens that was found to bend lines. */
import { describe, expect, it } from 'vitest';
import { distortionWarning } from '../../src/motion/distortion/distortion-words.js';
import type { DistortionReport } from '../../src/motion/index.js';
import { AXES } from '../../src/run/index.js';

const FOUND: DistortionReport = {
  ...{ source: 'found', k1: -0.15, ci95: [-0.16, -0.14], state: 'corrected', costFall: 0.1 },
  rmsShare: null,
};
const IN_DOUBT = AXES.map((axis) => ({ axis, reason: 'the lens' }));

/** What the one warning says. */
function told(report: Partial<DistortionReport>): string {
  const warnings = distortionWarning({ ...FOUND, ...report }, IN_DOUBT);
  expect(warnings).toHaveLength(1);
  return warnings[0].text;
}

describe('the warning of a lens that bends lines', () => {
  it('says that the focal length may be wrong where that would look alike', () => {
    // A wide lens bends lines outwards; a little of either, or inwards, is what a wrong focal length gives.
    expect(told({})).not.toContain('focal length');
    expect(told({ k1: -0.02, ci95: [-0.03, -0.01] })).toContain('the focal length is not the one');
    expect(told({ k1: 0.09, ci95: [0.08, 0.1] })).toContain('the focal length is not the one');
  });

  it('says so too where the bend is stronger than a lens can have it', () => {
    const strong = { ci95: null, state: 'notMeasurable' } as const;
    expect(told({ ...strong, k1: 0.1 })).toContain('the focal length is not the one');
    expect(told({ ...strong, k1: -0.35 })).not.toContain('focal length');
  });
});
