/** Handles over the strip of frames, and playing by frames. */
import { describe, expect, test } from 'vitest';
import { cellsOf, frameAtShare, frameOfKey, lookedAt, reachOf } from '../../../src/web/page/trim/handles.js';
import { frameDue, playStart, shuttled } from '../../../src/web/page/trim/shuttle.js';

const places = { frames: 300, inFrame: 50, outFrame: 200 };

describe('handles', () => {
  test('in stays a frame before out, out a frame after in, the playhead within the clip', () => {
    expect(reachOf('in', places)).toEqual([0, 199]);
    expect(reachOf('out', places)).toEqual([51, 300]);
    expect(reachOf('head', places)).toEqual([0, 299]);
  });

  test('both ends of the strip can be reached', () => {
    expect(frameAtShare('in', 0, 300)).toBe(0);
    expect(frameAtShare('out', 1, 300)).toBe(300);
    expect(frameAtShare('head', 1, 300)).toBe(299);
    expect(frameAtShare('head', -0.2, 300)).toBe(0);
  });

  test('arrow keys step a frame, with shift a second; Home and End go to the ends of the reach', () => {
    const reach = reachOf('out', places);
    expect(frameOfKey('ArrowRight', false, 200, 25, reach)).toBe(201);
    expect(frameOfKey('ArrowLeft', true, 200, 25, reach)).toBe(175);
    expect(frameOfKey('ArrowLeft', true, 60, 25, reach)).toBe(51);
    expect(frameOfKey('Home', false, 200, 25, reach)).toBe(51);
    expect(frameOfKey('End', false, 200, 25, reach)).toBe(300);
    expect(frameOfKey('x', false, 200, 25, reach)).toBeNull();
  });

  test('of the out point the last frame that is kept is looked at', () => {
    expect(lookedAt('out', 200)).toBe(199);
    expect(lookedAt('in', 50)).toBe(50);
  });

  test('cells of the strip take the posters nearest to them', () => {
    const atS = [1, 3, 5, 7, 9];
    expect(cellsOf(atS, 10, 5)).toEqual([0, 1, 2, 3, 4]);
    expect(cellsOf(atS, 10, 2)).toEqual([1, 3]);
    expect(cellsOf(atS, 10, 10)).toHaveLength(10);
    expect(cellsOf([], 10, 4)).toEqual([]);
  });
});

describe('shuttle', () => {
  test('each further press the same way is faster, up to eight times', () => {
    const presses = [1, 1, 1, 1, 1] as const;
    expect(presses.reduce<number[]>((all, way) => [...all, shuttled(all.at(-1) ?? 0, way)], [])).toEqual([
      1, 2, 4, 8, 8,
    ]);
    expect(shuttled(4, -1)).toBe(-1);
    expect(shuttled(-1, -1)).toBe(-2);
  });

  test('the frame that is due follows the clock and stays within the clip', () => {
    const clip = { fps: 25, frames: 300 };
    expect(frameDue(100, 2, 1, clip)).toBe(150);
    expect(frameDue(100, 2, -2, clip)).toBe(0);
    expect(frameDue(100, 60, 1, clip)).toBe(299);
  });

  test('playing on from the last frame begins at the first', () => {
    expect(playStart(299, 1, 300)).toBe(0);
    expect(playStart(0, -1, 300)).toBe(299);
    expect(playStart(120, 1, 300)).toBe(120);
  });
});
