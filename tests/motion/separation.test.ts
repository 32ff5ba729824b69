import { describe, expect, it } from 'vitest';
import { motionSection, splitMotion } from '../../src/motion/index.js';
import { invert6 } from '../../src/numerics/index.js';
import { AXES } from '../../src/run/index.js';
import { expectWithin } from '../support/expect-within.js';
import { simulatePass, type PassOptions } from './support/simulated-tracks.js';

function split(options: Partial<PassOptions>) {
  const pass = simulatePass({ durationS: 3, fps: 25, liveTracks: 150, ...options });
  const travelM = pass.travelM > 0 ? pass.travelM : undefined;
  return { motion: splitMotion(pass.table, pass.camera, { travelM, interCoded: false }) };
}

describe('how well translation was told from rotation', () => {
  const { motion } = split({ seed: 3 });

  it('gives for each sample the information whose inverse is the noise of the axes', () => {
    const { information } = motion.separation;
    expect(information).toHaveLength(36 * motion.timeS.length);
    const covariance = new Float64Array(36);
    for (const t of [0, 20, motion.timeS.length - 1]) {
      expect(invert6(information, 36 * t, covariance, 0)).toBe(true);
      AXES.forEach((axis, a) =>
        expectWithin(Math.sqrt(covariance[7 * a]), motion.noiseSd[axis][t], {
          rel: 1e-6,
          why: 'the same matrix, inverted twice',
        }),
      );
    }
  });

  it('finds correlations of a hall with near and far things well below 1', () => {
    const { correlation } = motion.separation;
    // Own simulations, depths 0.8-15 m at 50 mm: 0.70.
    expectWithin(Math.abs(correlation?.panLateral ?? NaN), 0.7, {
      abs: 0.15,
      why: 'another hall, other tracks',
    });
    expect(motion.separation.unsplit).toBeNull();
  });

  it('writes the lower triangles into the document, thinned out for long clips', () => {
    const { separation } = motionSection(motion, { dominantHz: {} });
    expect(separation.information.everyFrames).toBe(1);
    expect(separation.information.lowerTriangles).toHaveLength(motion.timeS.length);
    const [first] = separation.information.lowerTriangles;
    expect(first).toHaveLength(21);
    expectWithin(first[2], motion.separation.information[7] * (Math.PI / 180) ** 2, {
      rel: 1e-4,
      why: 'five digits, one over square degrees',
    });
    const long = {
      ...motion,
      separation: { ...motion.separation, information: new Float64Array(36 * 4000) },
    };
    expect(motionSection(long, { dominantHz: {} }).separation.information).toMatchObject({ everyFrames: 3 });
  });
});

describe('a clip that cannot tell', () => {
  it('gives bounds that hold both ways for a flat wall, and a distance at which something near would help', () => {
    const { motion } = split({ scene: 'wall', focalMm: 50, seed: 2, liveTracks: 250 });
    expect(motion.observable).toBe('no');
    const { unsplit } = motion.separation;
    expect(unsplit?.cause).toBe('flatScene');
    // RMS of the pass: pan 0.8 x 0.02 deg, lateral 0.6 x 0.2 mm, before the shake was sampled for three seconds.
    expect(unsplit?.ifAllAngular.panRad).toBeGreaterThan(0.5 * 0.016 * (Math.PI / 180));
    expect(unsplit?.ifAllTranslation.lateral).toBeGreaterThan(0.5 * 0.12e-3);
    const near = unsplit?.change.find(({ code }) => code === 'near-object')?.text ?? '';
    const metres = Number(/within ([\d.]+) m/.exec(near)?.[1]);
    expect(metres).toBeGreaterThan(0.5);
    expect(metres).toBeLessThan(motion.depth?.median ?? 0);
    expect(unsplit?.change.map(({ code }) => code)).toContain('wider-lens');

    // It does help. Points anywhere between two distances spread as much as half and half at this near edge.
    const nearest = 1 / (1 / 4 + (Math.sqrt(12) / 2) * (1 / metres - 1 / 4));
    const { motion: better } = split({ scene: [nearest, 4], focalMm: 50, seed: 2, liveTracks: 250 });
    expect(better.observable).toBe('yes');
  });

  it('asks a camera that did not travel to roll', () => {
    const { motion } = split({ move: 'static', translationalMm: 0, seed: 5 });
    expect(motion.separation.correlation).toBeNull();
    expect(motion.separation.unsplit?.cause).toBe('noTravel');
    expect(motion.separation.unsplit?.change[0].code).toBe('roll-further');
    // Only the turns carry information.
    expect(motion.separation.information.slice(18, 36)).toEqual(new Float64Array(18));
  });
});
