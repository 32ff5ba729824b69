/** What does not stand still in the world is thrown out, and what does is kept: people, highlights, slips on a texture. */
import { describe, expect, it } from 'vitest';
import { AXES } from '../../src/run/index.js';
import { keptTracks } from './support/kept-tracks.js';
import { measureOn } from './support/measure-pass.js';
import { simulatePass, type Move, type SimulatedPass } from './support/simulated-tracks.js';
import { withHighlights, withTextureSlips, type StrayPass } from './support/stray-tracks.js';

const SMALL = { durationS: 3, fps: 25, liveTracks: 140 } as const;
/** Error at most this many floors: 50 samples scatter by 10 %. */
const WORST_ERROR_FLOORS = 1.4;
/** Share of the honest tracks that may be lost. */
const MOST_LOST = 0.03;

function expectMeasured(pass: SimulatedPass): void {
  const { motion, scores } = measureOn(pass);
  expect([motion.mode, motion.observable]).toEqual(['full', 'yes']);
  for (const axis of AXES) expect(scores[axis].errorOverFloor, axis).toBeLessThan(WORST_ERROR_FLOORS);
}

describe('a person who walks through the picture', () => {
  it.each<[number, Move, number, number]>([
    [0.2, 'lateral', 50, 1],
    [0.2, 'push', 24, 1],
    [0.2, 'arc', 85, 1],
    // Passes on which the person was once taken for the room.
    [0.35, 'lateral', 85, 14],
    [0.35, 'lateral', 85, 8],
    [0.35, 'push', 50, 4],
    [0.35, 'arc', 50, 5],
  ])(
    'is thrown out whole at %s of the tracks, and the measurement holds: %s, %s mm, pass %s',
    (subjectShare, move, focalMm, seed) => {
      const pass = simulatePass({ ...SMALL, subjectShare, move, focalMm, seed });
      const { honest, honestKept, stray, strayKept } = keptTracks(pass, pass.onSubject);
      expect(stray).toBeGreaterThan(0.7 * subjectShare * (honest + stray));
      expect(strayKept).toBe(0);
      expect(1 - honestKept / honest).toBeLessThan(MOST_LOST);
      expectMeasured(pass);
    },
  );
});

describe('tracks that go astray', () => {
  const moves: [Move, number][] = [
    ['lateral', 50],
    ['push', 24],
    ['arc', 85],
  ];
  const expectHarmless = (pass: StrayPass, share: number): void => {
    const outside = Uint8Array.from(pass.isStray, (stray, i) => (stray || pass.onSubject[i] ? 1 : 0));
    const { honest, honestKept } = keptTracks(pass, outside);
    const strayed = pass.isStray.reduce((sum, v) => sum + v, 0);
    expect(strayed / pass.isStray.length).toBeGreaterThan(0.6 * share);
    // What they share with the room for a while may stay: only honest tracks must not be lost over them.
    expect(1 - honestKept / honest).toBeLessThan(MOST_LOST);
    expectMeasured(pass);
  };

  it.each(moves)('do no harm as highlights of a lamp on a wavy floor: %s, %s mm', (move, focalMm) => {
    const pass = simulatePass({ ...SMALL, subjectShare: 0.05, move, focalMm, seed: 2 });
    expectHarmless(withHighlights(pass, 0.15, 5), 0.15);
  });

  it.each(moves)('do no harm when one in ten slips by a tile of 16 px: %s, %s mm', (move, focalMm) => {
    const pass = simulatePass({ ...SMALL, subjectShare: 0.05, move, focalMm, seed: 3 });
    expectHarmless(withTextureSlips(pass, 0.1, 16, 6), 0.1);
  });
});
