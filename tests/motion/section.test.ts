import { describe, expect, it } from 'vitest';
import { motionSection, splitMotion } from '../../src/motion/index.js';
import { motionSchema } from '../../src/run/index.js';
import { expectWithin } from '../support/expect-within.js';
import { simulatePass } from './support/simulated-tracks.js';

const EXACT = { rel: 1e-12, why: 'a change of unit' };

describe('the motion section of the document', () => {
  const pass = simulatePass({ durationS: 3, seed: 4, axisMm: [0.5, 0.5, 0] });
  const motion = splitMotion(pass.table, pass.camera, { travelM: pass.travelM, interCoded: false });
  const section = motionSection(motion, { dominantHz: { pan: 3.1, axial: 5 } });

  it('fits the schema', () => {
    expect(motionSchema.parse(section)).toEqual(section);
  });

  it('gives degrees and millimetres where a figure stands', () => {
    const { pan } = section.angular;
    expect(pan.status).toBe('value');
    expectWithin(pan.rmsDeg ?? NaN, ((motion.axes.pan.rms ?? NaN) * 180) / Math.PI, EXACT);
    expectWithin(pan.noiseDeg ?? NaN, (motion.axes.pan.floor * 180) / Math.PI, EXACT);
    expect([pan.belowDeg, pan.dominantHz]).toEqual([null, 3.1]);
    const { lateral, unit, medianDepthM, travelM } = section.translational;
    expect(unit).toBe('mm');
    expectWithin(lateral.rms ?? NaN, (motion.axes.lateral.rms ?? NaN) * 1000, EXACT);
    expect(medianDepthM).toBe(motion.depth?.median);
    expect(travelM).toBe(pass.travelM);
  });

  it('adds the three angles as a root of squares', () => {
    const { pan, tilt, roll, rmsDeg } = section.angular;
    expectWithin(rmsDeg ?? NaN, Math.hypot(pan.rmsDeg ?? NaN, tilt.rmsDeg ?? NaN, roll.rmsDeg ?? NaN), EXACT);
  });

  it('gives only the bound and the noise of an axis below its noise', () => {
    const { axial } = section.translational;
    expect(axial.status).toBe('below');
    expect([axial.rms, axial.ci95, axial.peakToPeak, axial.maximum, axial.dominantHz]).toEqual(
      Array(5).fill(null),
    );
    expectWithin(axial.below ?? NaN, motion.axes.axial.below * 1000, EXACT);
    expect(axial.noise).not.toBeNull();
  });

  it('gives nothing at all, and no infinite number, of a clip that cannot be measured', () => {
    const nothing = splitMotion(
      {
        ...pass.table,
        frameCount: 0,
        timeS: new Float64Array(0),
        trackCount: 0,
        trackStart: new Int32Array(1),
        obsFrame: new Int32Array(0),
        xPx: new Float64Array(0),
        yPx: new Float64Array(0),
      },
      pass.camera,
    );
    const empty = motionSection(nothing, { dominantHz: {} });
    expect(motionSchema.parse(JSON.parse(JSON.stringify(empty)))).toEqual(empty);
    expect([empty.angular.rmsDeg, empty.angular.pan.noiseDeg, empty.translational.lateral.below]).toEqual([
      null,
      null,
      null,
    ]);
  });
});
