import { describe, expect, it } from 'vitest';
import type { Motion } from '../../src/motion/index.js';
import type { Rig } from '../../src/run/index.js';
import { gradeSurface, surfaceSection } from '../../src/surface/index.js';
import { gradeAsRolled } from './support/fitted-pass.js';
import { madeUpPass, madeUpRig, withoutTranslation } from './support/made-up-pass.js';

const INTRA = { interCoded: false };
const pass = madeUpPass({ seed: 1, gdM3: 1e-6, speedMps: 0.5, durationS: 6 });
const rig = madeUpRig(0.5);

function without(name: keyof Rig): Rig {
  return Object.fromEntries(Object.entries(rig).filter(([key]) => key !== name));
}

describe('a pass that cannot show the floor', () => {
  it('says nothing of the floor when the motion could not be measured', () => {
    const gone = { ...pass.axes.tilt, status: 'notObservable' } as const;
    const axes = { ...pass.axes, tilt: gone, roll: gone };
    const surface = gradeSurface({ ...pass, axes }, rig, INTRA);
    expect(surface.grade).toBeNull();
    expect(surface.reason).toMatch(/could not be measured/);
  });

  it('asks for the wheelbase', () => {
    const surface = gradeSurface(pass, without('wheelbaseM'), INTRA);
    expect(surface.grade).toBeNull();
    expect(surface.reason).toMatch(/^Give the wheelbase \(to 5 mm\)/);
  });

  it('asks for speed or travel, and takes travel over duration for speed', () => {
    const unscaled = { ...pass, travelM: null };
    expect(gradeSurface(unscaled, without('speedMps'), INTRA).reason).toMatch(
      /^Give the speed or the travel/,
    );
    const withTravel = gradeSurface(unscaled, { ...without('speedMps'), travelM: 3 }, INTRA);
    expect(withTravel.grade?.speedMps).toBeCloseTo(0.5, 2);
  });

  it('names every input that is missing at once', () => {
    const bare = { ...pass, travelM: null };
    const levelling = gradeSurface(bare, { head: 'selfLevelling' }, INTRA);
    expect(levelling.reason).toMatch(/camera height.*speed or the travel.*wheelbase/);
    const operated = gradeSurface(bare, { head: 'operated' }, INTRA);
    expect(operated.reason).toMatch(/^Give the speed or the travel.*wheelbase.*track width/);
  });

  it('refuses an operated head with the lens between ahead and to the side', () => {
    const oblique: Rig = { ...rig, head: 'operated', lensAzimuthDeg: 40 };
    const { grade, reason } = gradeSurface(pass, oblique, INTRA);
    expect(grade).toBeNull();
    expect(reason).toMatch(/^Roll a test pass with the head locked/);
  });

  it('leaves no profile, no class and no bumps without the wheelbase', () => {
    const section = surfaceSection(gradeSurface(pass, without('wheelbaseM'), INTRA));
    expect([section.isoClass, section.profile, section.psdAt01CyclesPerM]).toEqual([null, null, null]);
    expect(section.bumps).toEqual([]);
  });

  it('refuses a self-levelling head without a height or without translation in metres', () => {
    const levelling: Rig = { ...rig, head: 'selfLevelling' };
    expect(gradeSurface(pass, levelling, INTRA).reason).toMatch(/^Give the camera height/);
    const flat = withoutTranslation(pass);
    expect(gradeSurface(flat, { ...levelling, cameraHeightM: 0.9 }, INTRA).reason).toMatch(/^Lock the head/);
  });

  it('says nothing of a floor when nothing shows that the dolly rolled', () => {
    const pass = madeUpPass({ seed: 1, gdM3: 1e-6 });
    const still = { ...pass, mode: 'rotationOnly', parallaxP: 1.4, travelM: null } as const;
    const { grade, reason } = gradeSurface(still, madeUpRig(0.2), INTRA);
    expect(grade).toBeNull();
    expect(reason).toMatch(/^Nothing in the picture shows that the dolly rolled/);
  });

  it('refuses a pass shorter than two wheelbases and a little', () => {
    const short = madeUpPass({ seed: 1, gdM3: 1e-6, speedMps: 0.2, durationS: 3 });
    const { reason } = gradeSurface(short, madeUpRig(0.2), INTRA);
    expect(reason).toMatch(/^Roll a longer pass: the dolly moved 0\.6\d m/);
  });

  it('refuses a pace at which the wheels blur all that the clip could show', () => {
    const crawl = madeUpPass({
      seed: 1,
      gdM3: 1.6e-5,
      speedMps: 0.08,
      durationS: 25,
      wheelRadiusM: 0.1,
      patchM: 0.045,
    });
    const { grade, reason } = gradeAsRolled(crawl, madeUpRig(0.08));
    expect(grade).toBeNull();
    expect(reason).toMatch(/^Go faster: at 0\.080 m\/s/);
  });

  it('leaves the section empty and unobservable, with the reason', () => {
    const section = surfaceSection(gradeSurface(pass, without('wheelbaseM'), INTRA));
    expect(section.observable).toBe(false);
    expect(section.reason).toMatch(/wheelbase/);
    expect(section.isoClass).toBeNull();
    expect(section.psdAt01CyclesPerM).toBeNull();
    expect(section.atMost).toBe(false);
  });
});

describe('a floor that drowns in noise', () => {
  it.each([0.2, 0.5])('gets an upper bound and never a class at %d m/s', (speedMps) => {
    const silent = (seed: number, durationS: number) =>
      madeUpPass({ seed, gdM3: 1e-11, speedMps, durationS });
    for (const seed of [1, 2]) {
      const { grade } = gradeAsRolled(silent(seed, 12), madeUpRig(speedMps));
      expect(grade!.atMost).toBe(true);
      expect(grade!.gdM3).toBeGreaterThan(1e-11);
      // far above the noise that hid it, and still a useful statement.
      expect(grade!.gdM3).toBeLessThan(5e-7);
    }
    const section = surfaceSection(gradeSurface(silent(1, 7), madeUpRig(speedMps), INTRA));
    expect(section.atMost).toBe(true);
    expect([section.isoClass, section.ci95Class, section.psdCi95, section.flatnessFF]).toEqual(
      Array(4).fill(null),
    );
  });

  it('gets a bound, too, when the noise is twice what is stated', () => {
    const noisy = madeUpPass({ seed: 1, gdM3: 1e-11, speedMps: 0.5, noiseFactor: 2 });
    expect(gradeAsRolled(noisy, madeUpRig(0.5)).grade!.atMost).toBe(true);
  });

  it('gets a higher bound when part of the noise may be movement that coding took away', () => {
    const still = madeUpPass({ seed: 1, gdM3: 1e-11, speedMps: 0.5 });
    const sharing = (plainFloor: number): Motion => ({
      ...still,
      axes: Object.fromEntries(
        Object.entries(still.axes).map(([axis, one]) => [axis, { ...one, floor: 1, plainFloor }]),
      ) as Motion['axes'],
    });
    const bound = (motion: Motion): number => gradeAsRolled(motion, madeUpRig(0.5)).grade!.gdM3;
    // Shared error of sqrt(3) times the white part: three times its power may be lost movement.
    expect(bound(sharing(0.5))).toBeGreaterThan(2 * bound(sharing(1)));
  });

  it('gets a wider interval from an inter-coded clip', () => {
    const smooth = madeUpPass({ seed: 1, gdM3: 2.5e-7, speedMps: 0.5, durationS: 8 });
    const intra = gradeSurface(smooth, madeUpRig(0.5), INTRA).grade!;
    const coded = gradeSurface(smooth, madeUpRig(0.5), { interCoded: true }).grade!;
    expect(coded.sdLn).toBeGreaterThan(intra.sdLn);
    expect(gradeSurface(smooth, madeUpRig(0.5)).grade!.sdLn).toBe(coded.sdLn);
  });
});

describe('what is assumed', () => {
  it('is listed for every figure that was not given', () => {
    const { assumed } = gradeSurface(pass, { speedMps: 0.5, wheelbaseM: 0.45 }, INTRA);
    expect(assumed.map((one) => one.name).sort()).toEqual(
      ['cameraOffsetM', 'head', 'lensAzimuthDeg', 'shutterAngleDeg', 'trackWidthM'].sort(),
    );
    for (const one of assumed) expect(one.matters.length).toBeGreaterThan(20);
  });

  it('is empty for a full rig', () => {
    expect(gradeSurface(pass, rig, INTRA).assumed).toEqual([]);
  });
});
