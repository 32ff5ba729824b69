import { describe, expect, it } from 'vitest';
import { focalEffect, focalEffectInWords } from '../../src/motion/focal-effect.js';
import { splitMotion, type Motion } from '../../src/motion/index.js';
import { AXES, type Axis } from '../../src/run/index.js';
import { expectWithin } from '../support/expect-within.js';
import { simulatePass, type Move } from './support/simulated-tracks.js';

describe('a wrong focal length', () => {
  it('changes nothing when it is right', () => {
    for (const value of Object.values(focalEffect(1, 0.4, true))) expect(value).toBeCloseTo(0, 12);
  });

  it('is told in words', () => {
    expect(focalEffectInWords(0, true)).toBe(
      'if it is taken 10 % too long, pan and tilt read 9 % small, roll right, lateral and vertical right, axial 10 % large; ' +
        '10 % too short, pan and tilt read 11 % large, roll right, lateral and vertical right, axial 10 % small',
    );
  });

  it.each<[Move, number]>([
    ['lateral', 1.1],
    ['lateral', 0.9],
    ['push', 1.1],
  ])('does to a %s move with a focal length taken %s times as long what the formula says', (move, g) => {
    const pass = simulatePass({
      move,
      durationS: 4,
      fps: 25,
      liveTracks: 150,
      seed: 6,
      axisMm: [0.5, 0.5, 0.5],
    });
    const measure = (factor: number): Motion =>
      splitMotion(
        pass.table,
        { ...pass.camera, focalPx: factor * pass.camera.focalPx },
        { travelM: pass.travelM, interCoded: false },
      );
    const right = measure(1);
    const wrong = measure(g);
    const effect = focalEffect(g, right.alongLens, true);
    // The hall's move is straight along one axis; vibration and drift add next to nothing to the path.
    expectWithin(right.alongLens, move === 'push' ? 1 : 0, { abs: 0.02, why: 'a straight move' });
    for (const axis of AXES)
      expectWithin(ratio(wrong, right, axis), 1 + effect[axis], { abs: 0.02, why: 'noise of both' });
  });
});

function ratio(a: Motion, b: Motion, axis: Axis): number {
  return (a.axes[axis].rms ?? NaN) / (b.axes[axis].rms ?? NaN);
}
