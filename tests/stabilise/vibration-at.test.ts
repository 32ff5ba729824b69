import { describe, expect, it } from 'vitest';
import { vibrationAt } from '../../src/stabilise/path/vibration-at.js';
import { madeMotion, unitShake } from './support/made-motion.js';

describe('the vibration of another smoothing', () => {
  it('is the motion itself at its own cut-off', () => {
    const motion = madeMotion({ path: { pan: unitShake(1) } });
    const band = vibrationAt(motion, 1.25);
    expect(band.series).toBe(motion.vibration);
    expect(band.rms.pan).toBe(motion.axes.pan.rms);
  });

  it('is smaller when the intended move is allowed to be quicker', () => {
    const motion = madeMotion({ path: { pan: (s) => Math.sin(2 * Math.PI * 1.5 * s) } });
    expect(vibrationAt(motion, 0.4).rms.pan).toBeLessThan(0.05);
    expect(vibrationAt(motion, 2).rms.pan).toBeGreaterThan(0.65);
  });
});
