import { describe, expect, it } from 'vitest';
import type { Motion } from '../../../src/motion/index.js';
import type { Rig } from '../../../src/run/index.js';
import {
  gradeSurface,
  surfaceClass,
  surfaceSection,
  type RoughnessGrade,
} from '../../../src/surface/index.js';
import { readPass } from '../../../src/surface/deck/pass.js';
import { rolledDeck } from '../../../src/surface/deck/rolled-deck.js';
import { fitPass, levelsOf } from '../../../src/surface/roughness/pass-fit.js';
import { expectWithin } from '../../support/expect-within.js';
import { gradeAsRolled } from '../support/fitted-pass.js';
import { madeUpPass, madeUpRig, type PassOptions } from '../support/made-up-pass.js';
import { operated } from '../support/operated-head.js';

const INTRA = { interCoded: false };
const FLOOR = { seed: 1, gdM3: 1e-6, speedMps: 0.5, durationS: 12 } as const;
const HEIGHT_M = 0.9;

/** Rig of a made-up pass; a head of undefined is one of which nothing was said. */
function rigWith(head: Rig['head'], more: Partial<Rig> = {}): Rig {
  return { ...madeUpRig(0.5, more), head };
}

function passAt(azimuthDeg: number, more: Partial<PassOptions> = {}): Motion {
  return madeUpPass({ ...FLOOR, azimuthDeg, ...more });
}

function gradeOf(motion: Motion, rig: Rig): RoughnessGrade {
  const { grade, reason } = gradeAsRolled(motion, rig);
  if (grade === null) throw new Error(reason ?? 'no grade');
  return grade;
}

const codes = (motion: Motion, rig: Rig): string[] => readPass(motion, rig).warnings.map(({ code }) => code);

describe('an operated head', () => {
  it.each([0, 180, 12])(
    'at %d degrees shows the difference of the tracks alone: at least so rough',
    (azimuthDeg) => {
      const motion = operated(passAt(azimuthDeg));
      const rig = rigWith('operated', { lensAzimuthDeg: azimuthDeg });
      const deck = rolledDeck(readPass(motion, rig).pass!, motion);
      expect([deck.pitchRad, deck.heaveM]).toEqual([null, null]);
      const { grade, reason } = gradeAsRolled(motion, rig);
      expect([grade!.atLeast, grade!.atMost]).toEqual([true, false]);
      expect(reason).toMatch(/Only the roll of the deck shows/);
      // Half of this floor's power is in the difference of its tracks; the bound lies 1.6 sd below that half.
      expect(grade!.gdM3).toBeLessThan(0.7e-6);
      expect(grade!.gdM3).toBeGreaterThan(0.2e-6);
    },
  );

  it('gets neither class nor profile from roll alone', () => {
    const surface = gradeSurface(operated(passAt(0, { durationS: 6 })), rigWith('operated'), INTRA);
    const section = surfaceSection(surface);
    expect([section.atLeast, section.isoClass, section.profile]).toEqual([true, null, null]);
  });

  it('with the lens ahead leaves the difference of the tracks as a locked one shows it', () => {
    const { differenceM3 } = partsOf(passAt(0), rigWith('locked'));
    const free = partsOf(operated(passAt(0)), rigWith('operated'));
    expect(free.meanTrackM3).toBeNull();
    expectWithin(free.differenceM3! / differenceM3!, 1, {
      rel: 0.02,
      why: 'the very same roll, longer waves cut',
    });
  });

  it.each([90, -90, 80])(
    'at %d degrees shows the pitch as roll of the picture: a class, less sure of the tracks',
    (azimuthDeg) => {
      const rig = rigWith('operated', { lensAzimuthDeg: azimuthDeg });
      const motion = operated(passAt(azimuthDeg));
      const deck = rolledDeck(readPass(motion, rig).pass!, motion);
      expect(deck.rollRad).toBeNull();
      const grade = gradeOf(motion, rig);
      expect([grade.atLeast, grade.atMost]).toEqual([false, false]);
      expect(surfaceClass(grade.gdM3).name).toMatch(/^A-[23]$/);
      expect(grade.sdLn).toBeGreaterThan(0.2);
      // Tracks all but unlike: 0.5 of the power times 1.41.
      expectWithin(Math.log(grade.gdM3 / 1e-6), Math.log(0.7), { abs: 0.35, why: 'sd 0.25 of a 12 s pass' });
    },
  );

  it('with the lens to the side keeps heave unless the hand swings the lens up and down', () => {
    const rig = rigWith('operated', { lensAzimuthDeg: 90 });
    const heave = (armM: number): boolean => {
      const motion = operated(passAt(90), { armM });
      return rolledDeck(readPass(motion, rig).pass!, motion).heaveM !== null;
    };
    expect(heave(0.15)).toBe(false);
    expect(heave(0.01)).toBe(true);
  });

  it('between ahead and to the side is refused, with what to do', () => {
    const motion = operated(passAt(45));
    const { grade, reason } = gradeSurface(motion, rigWith('operated', { lensAzimuthDeg: 45 }), INTRA);
    expect(grade).toBeNull();
    expect(reason).toMatch(/^Roll a test pass with the head locked, or with the lens held straight ahead/);
    expect(reason).toMatch(/45 degrees off/);
  });

  it('that pans through the pass counts as far off as it pans', () => {
    const rig = rigWith('operated');
    const reason = (panThroughDeg: number) => readPass(operated(passAt(0), { panThroughDeg }), rig).refusal;
    expect(reason(20)).toBeNull();
    expect(reason(40)).toMatch(/up to 20 degrees off/);
  });

  it('asks for the azimuth when neither rig nor picture tells it, and for the track width that roll needs', () => {
    const still = { ...operated(passAt(0)), observable: 'no' } as const;
    expect(readPass(still, { ...rigWith('operated'), lensAzimuthDeg: undefined }).refusal).toMatch(
      /^Give the lens azimuth/,
    );
    const narrow = { ...rigWith('operated'), trackWidthM: undefined };
    expect(readPass(operated(passAt(0)), narrow).refusal).toMatch(/^Give the track width, or lock the head/);
  });
});

describe('a clip in which tilt cannot be measured', () => {
  it('says as much as an operated head: the difference of the tracks', () => {
    const motion = passAt(0);
    const tilt = { ...motion.axes.tilt, status: 'notObservable' } as const;
    const grade = gradeOf({ ...motion, axes: { ...motion.axes, tilt } }, rigWith('locked'));
    expect(grade.atLeast).toBe(true);
  });
});

describe('a head that levels itself', () => {
  const levelling = { gdM3: 1.6e-5, levelling: true };

  it('is seen by the way that the lens is carried without turning, and the floor is read from that', () => {
    const rig = rigWith(undefined, { cameraHeightM: HEIGHT_M });
    const motion = passAt(0, levelling);
    expect(codes(motion, rig)).toEqual(['head-levels-itself']);
    expectWithin(Math.log(gradeOf(motion, rig).gdM3 / 1.6e-5), 0, { abs: 0.35, why: 'a quarter of a class' });
  });

  it('is not suspected where the lens turns with the deck, nor against the word of the crew', () => {
    const rig = rigWith(undefined, { cameraHeightM: HEIGHT_M });
    expect(codes(passAt(0, { gdM3: 1.6e-5 }), rig)).toEqual([]);
    expect(codes(passAt(0, levelling), rigWith('locked', { cameraHeightM: HEIGHT_M }))).not.toContain(
      'head-levels-itself',
    );
  });

  it('is not suspected of a jerky pace, which shakes the lens ahead but not to the side', () => {
    const motion = passAt(0);
    const jerk = motion.timeS.map((t) => 1e-3 * Math.sin(2 * Math.PI * 5.3 * t));
    const add = (values: Float64Array): Float64Array => values.map((value, i) => value + jerk[i]);
    const path = { ...motion.path, axial: add(motion.path.axial) };
    const jerky = { ...motion, path };
    expect(codes(jerky, rigWith(undefined, { cameraHeightM: HEIGHT_M }))).toEqual([]);
  });

  it('gets no class below A-3, only a bound', () => {
    // Quiet translation: noise alone would let a class be named.
    const motion = passAt(0, { gdM3: 3e-8, levelling: true, noiseFactor: 0.02 });
    const scaled = (values: Float64Array): Float64Array => values.map((value) => 0.02 * value);
    const { lateral, vertical, axial } = motion.noiseSd;
    const noiseSd = {
      ...motion.noiseSd,
      lateral: scaled(lateral),
      vertical: scaled(vertical),
      axial: scaled(axial),
    };
    const rig = rigWith('selfLevelling', { cameraHeightM: HEIGHT_M });
    const { grade, reason } = gradeAsRolled({ ...motion, noiseSd }, rig);
    expect(grade!.atMost).toBe(true);
    expect(grade!.gdM3).toBeGreaterThanOrEqual(1.25e-7);
    expect(reason).toMatch(/levels itself/);
  });
});

describe('rows that are read out slowly', () => {
  it('cost the heave only where they may matter and were not corrected', () => {
    const heave = (readout: Partial<Motion['readout']>): boolean => {
      const motion = passAt(0);
      const seen = { ...motion, readout: { ...motion.readout, ...readout } };
      return rolledDeck(readPass(seen, rigWith('locked')).pass!, seen).heaveM !== null;
    };
    expect(heave({ state: 'notMeasurable', ci95S: [0, 0.02] })).toBe(false);
    expect(heave({ state: 'notMeasurable', ci95S: [0, 0.003] })).toBe(true);
    expect(heave({ state: 'corrected', source: 'given', readoutS: 0.02 })).toBe(true);
    expect(heave({ state: 'notNeeded', ci95S: [0, 0.02] })).toBe(true);
  });
});

describe('a lens azimuth', () => {
  it('that is given the wrong way round is put right by the picture', () => {
    const motion = passAt(-90);
    const wrong = readPass(motion, rigWith('locked', { lensAzimuthDeg: 90 }));
    expect(wrong.warnings.map(({ code }) => code)).toEqual(['lens-azimuth-differs']);
    const right = readPass(motion, rigWith('locked', { lensAzimuthDeg: -90 }));
    const pitch = rolledDeck(wrong.pass!, motion).pitchRad!.values;
    const truth = rolledDeck(right.pass!, motion).pitchRad!.values;
    pitch.forEach((value, i) => expectWithin(value, truth[i], { abs: 1e-9, why: 'the same turn' }));
  });
});

/** Levels of the tracks that a pass is fitted with. */
function partsOf(motion: Motion, rig: Rig) {
  return levelsOf(fitPass(rolledDeck(readPass(motion, rig).pass!, motion)));
}
