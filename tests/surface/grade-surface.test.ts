import { describe, expect, it } from 'vitest';
import type { Rig } from '../../src/run/index.js';
import { gradeSurface, surfaceClass, surfaceSection, type RoughnessGrade } from '../../src/surface/index.js';
import { fitPass } from '../../src/surface/roughness/pass-fit.js';
import { readPass } from '../../src/surface/deck/pass.js';
import { rolledDeck } from '../../src/surface/deck/rolled-deck.js';
import { expectWithin } from '../support/expect-within.js';
import { gradeAsRolled } from './support/fitted-pass.js';
import { madeUpPass, madeUpRig, withoutTranslation, type PassOptions } from './support/made-up-pass.js';

const INTRA = { interCoded: false };
/** Half a class either way: sampling of one floor (0.1), contact and noise together. */
const LN_TOLERANCE = { abs: 0.35, why: 'a quarter of a class; spread of 20 s passes is 0.1-0.2' };

/** Grades by what was asked for: several tests begin from the same pass. */
const graded = new Map<string, RoughnessGrade>();

function gradeOf(options: PassOptions, rig: Partial<Rig> = {}): RoughnessGrade {
  const key = JSON.stringify([options, rig]);
  const known = graded.get(key);
  if (known) return known;
  const { grade, reason } = gradeAsRolled(madeUpPass(options), madeUpRig(options.speedMps ?? 0.2, rig));
  if (grade === null) throw new Error(reason ?? 'no grade');
  graded.set(key, grade);
  return grade;
}

describe('the grade of a made-up floor', () => {
  const floors: [number, string, number][] = [];
  for (const speedMps of [0.2, 0.5]) {
    for (const [gdM3, name] of [
      [1.6e-5, 'A'],
      [1e-6, 'A-2'],
      [6e-8, 'A-4'],
    ] as const)
      floors.push([gdM3, name, speedMps]);
  }
  it.each(floors)('of Gd %d m^3 is class %s at %d m/s', (gdM3, name, speedMps) => {
    for (const seed of [1, 2]) {
      const grade = gradeOf({ seed, gdM3, speedMps });
      expect(surfaceClass(grade.gdM3).name).toBe(name);
      expect(grade.atMost).toBe(false);
      const ln = Math.log(grade.gdM3 / gdM3);
      expectWithin(ln, 0, LN_TOLERANCE, `seed ${seed}`);
      expect(Math.abs(ln)).toBeLessThan(1.96 * grade.sdLn);
    }
  });

  it('holds at 0.1 m/s, where notches are narrower than the tapers', () => {
    for (const gdM3 of [1.6e-5, 1e-6]) {
      const grade = gradeOf({ seed: 3, gdM3, speedMps: 0.1 });
      expectWithin(Math.log(grade.gdM3 / gdM3), 0, LN_TOLERANCE);
    }
  });

  it('is the same for the same pass, and leaves the motion alone', () => {
    const motion = madeUpPass({ seed: 4, gdM3: 1e-6, speedMps: 0.5, durationS: 8 });
    const before = Float64Array.from(motion.vibration.tilt);
    const first = gradeSurface(motion, madeUpRig(0.5), INTRA);
    expect(gradeSurface(motion, madeUpRig(0.5), INTRA)).toEqual(first);
    expect(motion.vibration.tilt).toEqual(before);
  });

  it('counts the difference of the tracks: the mean track alone holds about half of it', () => {
    const gdM3 = 1e-6;
    const motion = madeUpPass({ seed: 1, gdM3, speedMps: 0.5 });
    const { fit } = fitPass(rolledDeck(readPass(motion, madeUpRig(0.5)).pass!, motion)).masked;
    const unlike = { abs: 0.2, why: 'tracks unlike above 3 cycles/m leave 0.5, alike ones 1' };
    expectWithin(fit.meanTrackM3! / fit.gdM3, 0.55, unlike);
    expectWithin(fit.meanTrackM3! + fit.differenceM3! / 4, gdM3, { rel: 0.35, why: LN_TOLERANCE.why });
  });

  it('without a track width takes the tracks as half alike and says so in a wider interval', () => {
    const options = { seed: 1, gdM3: 1e-6, speedMps: 0.5 };
    const motion = madeUpPass(options);
    const { trackWidthM, ...rig } = madeUpRig(0.5);
    expect(trackWidthM).toBeDefined();
    const { grade } = gradeAsRolled(motion, rig);
    const known = gradeOf(options);
    expect(grade!.sdLn).toBeGreaterThan(Math.hypot(known.sdLn, 0.15));
    // Half of the power times 1.41: 0.7 of the truth.
    expectWithin(Math.log(grade!.gdM3 / known.gdM3), Math.log(0.7), {
      abs: 0.3,
      why: 'sd 0.2 of coherence',
    });
    expect(readPass(motion, rig).assumed.map((one) => one.name)).toContain('trackWidthM');
    expect(grade!.waviness).toBeNull();
  });

  it('does without translation, from pitch and roll alone', () => {
    const motion = withoutTranslation(madeUpPass({ seed: 2, gdM3: 1e-6 }));
    const { grade } = gradeAsRolled(motion, madeUpRig(0.2));
    expectWithin(Math.log(grade!.gdM3 / 1e-6), 0, LN_TOLERANCE);
  });

  it('follows a soft wheel that rolls over half of the short waves', () => {
    const grade = gradeOf({ seed: 1, gdM3: 1e-6, speedMps: 0.25, wheelRadiusM: 0.1, patchM: 0.045 });
    expectWithin(Math.log(grade.gdM3 / 1e-6), 0, LN_TOLERANCE);
    expectWithin(Math.log(grade.contactCyclesPerM / 17), 0, {
      abs: 0.4,
      why: 'a 45 mm patch halves near 15-18',
    });
  });

  it.each([90, 180, -90])('is the same with the lens at %d degrees to the travel', (azimuthDeg) => {
    const options = { seed: 1, gdM3: 1e-6, speedMps: 0.5, durationS: 12 };
    const ahead = gradeOf(options);
    const turned = gradeOf({ ...options, azimuthDeg }, { lensAzimuthDeg: azimuthDeg });
    expectWithin(Math.log(turned.gdM3 / ahead.gdM3), 0, { abs: 0.1, why: 'other noise on the same floor' });
  });

  it('finds the lens azimuth from the travel when it is not given', () => {
    const motion = madeUpPass({ seed: 1, gdM3: 1e-6, speedMps: 0.5, durationS: 12, azimuthDeg: 90 });
    const { lensAzimuthDeg, ...rig } = madeUpRig(0.5);
    expect(lensAzimuthDeg).toBe(0);
    const surface = gradeSurface(motion, rig, INTRA);
    expectWithin(Math.log(surface.grade!.gdM3 / 1e-6), 0, LN_TOLERANCE);
    expect(surface.assumed.find((one) => one.name === 'lensAzimuthDeg')?.value).toMatch(/^90 /);
  });

  it('warns of a lens azimuth that the picture contradicts', () => {
    const motion = madeUpPass({ seed: 1, gdM3: 1e-6, speedMps: 0.5, durationS: 6, azimuthDeg: 90 });
    const codes = gradeSurface(motion, madeUpRig(0.5), INTRA).warnings.map((one) => one.code);
    expect(codes).toContain('lens-azimuth-differs');
  });

  it('reads a self-levelling head from the way the lens is carried at its height', () => {
    const grade = gradeOf(
      { seed: 1, gdM3: 1e-6, levelling: true },
      { head: 'selfLevelling', cameraHeightM: 0.9 },
    );
    expectWithin(Math.log(grade.gdM3 / 1e-6), 0, LN_TOLERANCE);
  });

  it('leaves the standing part of a clip out', () => {
    const motion = madeUpPass({ seed: 1, gdM3: 1e-6, standingS: 5 });
    const surface = gradeSurface(motion, madeUpRig(0.15), INTRA);
    expectWithin(surface.grade!.speedMps, 0.2, { rel: 0.03, why: 'ramp of the 0.8 Hz low-pass' });
    expectWithin(Math.log(surface.grade!.gdM3 / 1e-6), 0, LN_TOLERANCE);
    expect(surface.warnings.map((one) => one.code)).toContain('surface-part-of-clip');
  });

  it('bears a speed that wanders by 10 %, and a wheelbase 20 mm off, and says both', () => {
    const wandering = gradeSurface(madeUpPass({ seed: 1, gdM3: 1e-6, wobble: 0.1 }), madeUpRig(0.2), INTRA);
    expectWithin(Math.log(wandering.grade!.gdM3 / 1e-6), 0, LN_TOLERANCE);
    expect(wandering.warnings.map((one) => one.code)).toContain('uneven-speed');
    const wrong = gradeSurface(
      madeUpPass({ seed: 1, gdM3: 1e-6 }),
      madeUpRig(0.2, { wheelbaseM: 0.47 }),
      INTRA,
    );
    expectWithin(Math.log(wrong.grade!.gdM3 / 1e-6), 0, LN_TOLERANCE);
    expect(wrong.warnings.map((one) => one.code)).toContain('wheelbase-or-speed-off');
  });
});

describe('the exponent of the spectrum', () => {
  it.each([1.6, 2.5])('is found on a floor of w = %d and named when it is not 2', (waviness) => {
    const motion = madeUpPass({ seed: 2, gdM3: waviness < 2 ? 3e-7 : 4e-6, waviness, speedMps: 0.5 });
    const { grade, warnings } = gradeAsRolled(motion, madeUpRig(0.5));
    const fit = grade!.waviness!;
    const off = Math.abs(fit.waviness - 2);
    expect(warnings.map((one) => one.code)).toEqual(
      off > Math.max(0.25, 2 * fit.sd) ? ['waviness-not-2'] : [],
    );
    expectWithin(fit.waviness, waviness, { abs: 0.3, why: 'sd 0.1-0.15 of a 10 m pass' });
    expect(fit.sd).toBeLessThan(0.25);
  });

  it('is not given for a pass shorter than ten of the longest waves', () => {
    expect(gradeOf({ seed: 1, gdM3: 1e-6, speedMps: 0.5, durationS: 10 }).waviness).toBeNull();
  });
});

describe('machines on the deck', () => {
  it('leave the grade alone when they hum a line, which is listed', () => {
    const line = { rmsMdeg: 5, freqHz: 7.3 };
    for (const gdM3 of [1e-6, 6e-8]) {
      const grade = gradeOf({ seed: 1, gdM3, line });
      expectWithin(Math.log(grade.gdM3 / gdM3), 0, LN_TOLERANCE);
      expect(grade.gdAsRolledM3! / gdM3).toBeGreaterThan(1.4);
      expect(grade.lines.length).toBeGreaterThan(0);
      for (const found of grade.lines) {
        expect(found.channel).toBe('pitch');
        expectWithin(found.freqHz, 7.3, { abs: 0.15, why: 'taper width of 3 bins of 1/20 s' });
      }
    }
  });

  it('make the grade an upper bound when they shake at all frequencies', () => {
    const surface = gradeSurface(madeUpPass({ seed: 1, gdM3: 1e-6, shakeMdeg: 10 }), madeUpRig(0.2), INTRA);
    const section = surfaceSection(surface);
    expect(section.atMost).toBe(true);
    expect(section.isoClass).toBeNull();
    expect(section.psdAt01CyclesPerM!).toBeGreaterThan(1e-6);
    expect(section.reason).toMatch(/or smoother/);
  });
});
