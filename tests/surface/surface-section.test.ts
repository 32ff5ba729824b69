import { describe, expect, it } from 'vitest';
import { surfaceSchema } from '../../src/run/index.js';
import { surfaceSection, type Surface, type SurfaceGrade } from '../../src/surface/index.js';
import { expectWithin } from '../support/expect-within.js';

const EXACT = { rel: 1e-9, why: 'closed forms' };

const grade: SurfaceGrade = {
  gdM3: 16e-6,
  gdAsRolledM3: 20e-6,
  sdLn: 0.2,
  atMost: false,
  atLeast: false,
  waviness: { waviness: 2.1, sd: 0.1 },
  wavelengthsM: [0.05, 2],
  contactCyclesPerM: 100,
  speedMps: 0.5,
  lines: [],
};
const surface: Surface = { grade, reason: null, assumed: [], warnings: [] };

describe('the surface section of a run', () => {
  it('gives class, interval, height in the band and flatness of one roughness', () => {
    const section = surfaceSection(surface);
    expect(surfaceSchema.parse(section)).toEqual(section);
    expect(section.isoClass).toBe('A');
    expect(section.ci95Class).toEqual(['A', 'A']);
    expectWithin(section.psdCi95![0], 16e-6 * Math.exp(-0.392), EXACT);
    expectWithin(section.psdCi95![1], 16e-6 * Math.exp(0.392), EXACT);
    // Class A between 50 mm and 2 m: 0.55857 mm; FF 27.886 (both computed apart, see tests/reference).
    expectWithin(section.profileRmsMm!, 0.55857, { abs: 1e-5, why: 'digits of the reference' });
    expectWithin(section.flatnessFF!, 27.8857, { abs: 1e-4, why: 'digits of the reference' });
    expect(section.psdAsRolled).toBe(20e-6);
    expect(section.waviness).toBe(2.1);
    expect(section.profile).toBeNull();
    expect(section.bumps).toEqual([]);
  });

  it('gives the bound and its reason alone when no more than "at most" can be said', () => {
    const section = surfaceSection({
      ...surface,
      grade: { ...grade, atMost: true },
      reason: 'A machine hums.',
    });
    expect(surfaceSchema.parse(section)).toEqual(section);
    expect(section.psdAt01CyclesPerM).toBe(16e-6);
    expect([section.isoClass, section.psdCi95, section.profileRmsMm, section.waviness]).toEqual([
      null,
      null,
      null,
      null,
    ]);
    expect(section.reason).toBe('A machine hums.');
  });
});
