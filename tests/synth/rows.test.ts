import { describe, expect, it } from 'vitest';
import {
  buildScene,
  cameraOf,
  makeCameraPath,
  resolveSynthOptions,
  type PartialSynthOptions,
} from '../../src/synth/index.js';
import { createRenderer } from '../../src/synth/renderer.js';
import { plainRows } from '../../src/synth/rows/plain-rows.js';
import { simdRows } from '../../src/synth/rows/simd-rows.js';

/** Odd widths, so that pairs of pixels end in the middle; every kind of row, surface and cut-out. */
const PASSES: Readonly<Record<string, PartialSynthOptions>> = {
  'a hall with somebody walking': { subjectDistanceM: 2.2, focalLengthMm: 28, widthPx: 322, heightPx: 180 },
  'a corridor over tiles': { scene: 'tiled-corridor', move: 'pushIn', widthPx: 310, heightPx: 180 },
  'rows read one after another': { readoutMs: 18, subjectDistanceM: 2.6, widthPx: 250, heightPx: 140 },
  'a lens that bends lines': { scene: 'aluminium-rail', lensK1: -0.1, widthPx: 250, heightPx: 140 },
  'both of them': { lensK1: 0.06, readoutMs: 12, subjectDistanceM: 2.6, widthPx: 250, heightPx: 140 },
};

describe('rows drawn by compiled loops', () => {
  it.each(Object.keys(PASSES))('are those of the plain loops to the last bit: %s', (name) => {
    const options = resolveSynthOptions(PASSES[name]);
    const path = makeCameraPath(options);
    const scene = buildScene(options, path);
    const camera = cameraOf(options);
    const compiled = createRenderer(scene, camera, (setting) => simdRows(setting)!);
    const plain = createRenderer(scene, camera, plainRows);
    for (const timeS of [0.4, 3.1]) {
      const shot = { poseAt: path.poseAt, timeS, readoutS: options.readoutMs / 1000 };
      const one = compiled.draw(shot);
      const other = plain.draw(shot);
      expect(new Set(other.shown).size).toBeGreaterThan(20);
      expect(Buffer.from(one.luma.buffer).equals(Buffer.from(other.luma.buffer))).toBe(true);
      expect(Buffer.from(one.shown.buffer).equals(Buffer.from(other.shown.buffer))).toBe(true);
    }
  });
});
