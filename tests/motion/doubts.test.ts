/** Doubts of the motion on simulated tracks and from figures alone; clips are in end-to-end/doubt-motion.test.ts. */
import { describe, expect, it } from 'vitest';
import { motionDoubts } from '../../src/motion/doubt/motion-doubts.js';
import { deckDoubt, splitMotion, type Motion } from '../../src/motion/index.js';
import type { AxisEstimate } from '../../src/motion/types.js';
import { AXES, doubtsAmong, type Axis } from '../../src/run/index.js';
import { withFocal, withSlidingPicture } from './support/doctored-tracks.js';
import { simulatePass, type PassOptions, type SimulatedPass } from './support/simulated-tracks.js';

const SMALL: Partial<PassOptions> = { durationS: 2.6, fps: 25, liveTracks: 80, subjectShare: 0.05, seed: 1 };
const pass = (options: Partial<PassOptions>): SimulatedPass => simulatePass({ ...SMALL, ...options });

function doubtsOf({ table, camera, travelM }: SimulatedPass): string[] {
  const motion = splitMotion(table, camera, {
    interCoded: false,
    readoutS: 0,
    ...(travelM > 0 && { travelM }),
  });
  return doubtsAmong(motion.warnings).map(({ code }) => code);
}

describe('doubts of the lens', () => {
  const arc = pass({ move: 'arc', focalMm: 35 });

  it('are raised by a focus that hunts, which a scene with depth tells from a move along the lens', () => {
    expect(doubtsOf(withFocal(arc, (s) => 0.001 * Math.sin(2 * Math.PI * 3 * s)))).toEqual([
      'focus-breathing',
    ]);
  });

  it('are not raised by a push towards a flat wall, zoomed or not: the two look the same', () => {
    const wall = pass({ move: 'push', scene: 'wall', focalMm: 35 });
    expect(doubtsOf(wall)).toEqual([]);
    expect(doubtsOf(withFocal(wall, (s) => 0.01 * s))).toEqual([]);
  });

  it('are not raised by a focal length that is a tenth off all through', () => {
    const { camera } = arc;
    expect(doubtsOf({ ...arc, camera: { ...camera, focalPx: 1.1 * camera.focalPx } })).toEqual([]);
  });

  it('are not raised by a turning head on a stand', () => {
    expect(doubtsOf(pass({ move: 'static', translationalMm: 0, angularDeg: 0.1, focalMm: 35 }))).toEqual([]);
  });
});

describe('a picture that slides under the lens', () => {
  it('is told on a wide lens, where the sides of the picture show the difference from a turn', () => {
    const shaky = pass({ move: 'lateral', focalMm: 24, angularDeg: 0.1, seed: 3 });
    expect(doubtsOf(withSlidingPicture(shaky, 0.9))).toEqual(['stabilised-in-camera']);
  });
});

describe('a person', () => {
  it('is told from 45 in 100 tracks on, and left in peace at 20', () => {
    const walking = { move: 'arc', focalMm: 50, liveTracks: 110, durationS: 3, seed: 5 } as const;
    expect(doubtsOf(pass({ ...walking, subjectShare: 0.45 }))).toEqual(['subject-dominates']);
    expect(doubtsOf(pass({ ...walking, subjectShare: 0.2 }))).toEqual([]);
  });
});

describe('a deck that lifts the camera', () => {
  const axis = (rms: number, floor = rms / 50): AxisEstimate => ({
    status: 'value',
    rms,
    rawRms: rms,
    peakToPeak: 4 * rms,
    maximum: 2 * rms,
    floor,
    plainFloor: floor,
    ci95: [0.9 * rms, 1.1 * rms],
    below: 1.1 * rms,
  });
  /** A lift in mm and turns in rad, RMS. */
  const moving = (liftMm: number, turnRad: number, change: Partial<Motion> = {}): Motion => {
    const axes = Object.fromEntries(AXES.map((name) => [name, axis(turnRad)])) as Record<Axis, AxisEstimate>;
    const motion = { translationUnit: 'm', observable: 'yes', unreliable: [], ...change };
    return { ...motion, axes: { ...axes, vertical: axis(liftMm / 1000) } } as unknown as Motion;
  };
  const rig = { wheelbaseM: 0.45 };

  it('turns it by about twice the lift over the wheelbase: a twelfth of that and less is doubted', () => {
    // 0.45 mm over 0.45 m: 2 mrad would be ordinary, and two axes of 0.1 mrad are a fourteenth.
    expect(deckDoubt(moving(0.45, 2e-3), rig)).toEqual([]);
    expect(deckDoubt(moving(0.45, 3e-4), rig)).toEqual([]);
    const [doubt] = deckDoubt(moving(0.45, 0.9e-4), rig);
    expect(doubt).toMatchObject({ code: 'stabilised-in-camera', atS: null });
    expect(doubt.text).toMatch(/0\.45 mm.*--head self-levelling/);
  });

  it.each([
    ['a head that levels itself', { ...rig, head: 'selfLevelling' as const }, {}],
    ['somebody at the head', { ...rig, head: 'operated' as const }, {}],
    ['no wheelbase', {}, {}],
    ['no scale', rig, { translationUnit: 'medianDepth' as const }],
    ['translation in doubt', rig, { unreliable: [{ axis: 'vertical' as const, reason: 'knocks' }] }],
    ['translation that is not seen', rig, { observable: 'no' as const }],
  ])('is not doubted with %s', (_, given, change) => {
    expect(deckDoubt(moving(0.45, 0.9e-4, change), given)).toEqual([]);
  });

  it('is not doubted on a rail so smooth that hardly anything lifts', () => {
    expect(deckDoubt(moving(0.05, 1e-6), rig)).toEqual([]);
  });
});

describe('the words of a clip in pieces', () => {
  it('tell the largest sign of each kind once, with its place', () => {
    const doubts = motionDoubts([
      { kind: 'focal', size: 0.008, atS: 2 },
      { kind: 'focal', size: 0.041, atS: 7 },
      { kind: 'slide', size: 1e-4, atS: null },
      { kind: 'slide', size: 2e-4, atS: null },
      { kind: 'hunting', size: 3e-4, atS: null },
    ]);
    expect(doubts.map(({ code, atS }) => [code, atS])).toEqual([
      ['stabilised-in-camera', null],
      ['zoom-during-pass', 7],
    ]);
    expect(doubts[1].text).toContain('about 4.1 %');
  });

  it('call a small change of size breathing, and name the readout that the rows show', () => {
    const [breathing, rows] = motionDoubts([
      { kind: 'focal', size: 0.0061, atS: 1 },
      { kind: 'readout', givenS: 0, ci95S: [0.0142, 0.0161] },
    ]);
    expect(breathing.code).toBe('focus-breathing');
    expect(breathing.text).toContain('about 0.6 %');
    expect(rows.code).toBe('rolling-artefacts');
    expect(rows.text).toContain('(0 ms)');
    expect(rows.text).toContain('14 to 16 ms');
  });
});
