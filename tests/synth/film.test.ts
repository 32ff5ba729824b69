import { describe, expect, it } from 'vitest';
import {
  SYNTH_SCENES,
  buildScene,
  cameraOf,
  makeCameraPath,
  resolveSynthOptions,
  startFilm,
} from '../../src/synth/index.js';
import { createRenderer } from '../../src/synth/renderer.js';
import { NO_SURFACE } from '../../src/synth/rows/row-painter.js';
import { expectWithin } from '../support/expect-within.js';

const SMALL = { widthPx: 320, heightPx: 180, durationS: 2 } as const;

describe('scenes', () => {
  it.each(
    SYNTH_SCENES.flatMap(({ name }) =>
      (['lateral', 'arc', 'pushIn'] as const).map((move) => [name, move] as const),
    ),
  )('leave no hole in the picture and never end up inside a thing (%s, %s)', (scene, move) => {
    const options = resolveSynthOptions({ ...SMALL, scene, move, durationS: 4 });
    const path = makeCameraPath(options);
    const renderer = createRenderer(buildScene(options, path), cameraOf(options));
    for (const timeS of [0, 2, 3.96]) {
      const { shown, luma } = renderer.draw({ poseAt: path.poseAt, timeS, readoutS: 0 });
      expect(shown.includes(NO_SURFACE)).toBe(false);
      const counts = new Map<number, number>();
      shown.forEach((id) => counts.set(id, (counts.get(id) ?? 0) + 1));
      if (scene !== 'measuring-wall') expect(counts.size).toBeGreaterThan(6);
      const mean = luma.reduce((sum, value) => sum + value, 0) / luma.length;
      expect(mean).toBeGreaterThan(0.25);
      expect(mean).toBeLessThan(0.75);
    }
  });

  it('show near and far things together, so that there is parallax', () => {
    for (const scene of ['dairy-hall', 'tiled-corridor', 'plywood-loft', 'aluminium-rail'] as const) {
      const options = resolveSynthOptions({ ...SMALL, scene });
      const built = buildScene(options, makeCameraPath(options));
      const depths = built.surfaces.map((surface) => surface.origin[2]).filter((z) => z > 0.5);
      expect(Math.min(...depths)).toBeLessThan(1.3);
      expect(Math.max(...depths)).toBeGreaterThan(7);
    }
  });
});

describe('the walking figure', () => {
  it.each(['lateral', 'pushIn', 'arc', 'static'] as const)(
    'covers more than 15 per cent of every frame (%s)',
    (move) => {
      const options = resolveSynthOptions({ ...SMALL, move, durationS: 4, subjectDistanceM: 2.2 });
      const path = makeCameraPath(options);
      const scene = buildScene(options, path);
      const renderer = createRenderer(scene, cameraOf(options));
      const first = scene.surfaces.length + scene.cutouts.length - 3;
      for (let timeS = 0; timeS < 4; timeS += 0.37) {
        const { shown } = renderer.draw({ poseAt: path.poseAt, timeS, readoutS: 0 });
        const covered = shown.reduce((count, id) => count + (id >= first && id !== NO_SURFACE ? 1 : 0), 0);
        expect(covered / shown.length).toBeGreaterThan(0.15);
      }
    },
  );
});

describe('frames', () => {
  it('do not depend on the order in which they are drawn', () => {
    const options = resolveSynthOptions({ ...SMALL, shutterAngleDeg: 180, motionSamples: 2, readoutMs: 10 });
    const [a, b] = [startFilm(options), startFilm(options)];
    b.frame(7);
    expect(b.frame(3)).toEqual(a.frame(3));
  });

  it('of a camera at rest are all alike without noise', () => {
    const film = startFilm(resolveSynthOptions({ ...SMALL, move: 'static', driftDeg: 0, noiseGrey: 0 }));
    expect(film.frame(9)).toEqual(film.frame(0));
  });

  it('carry the noise that was asked for', () => {
    const filmed = (noiseGrey: number) =>
      startFilm(
        resolveSynthOptions({
          ...SMALL,
          colour: false,
          noiseGrey,
          move: 'static',
          driftDeg: 0,
          contrast: 0.3,
        }),
      ).frame(0);
    const [noisy, clean] = [filmed(5), filmed(0)];
    let sum = 0;
    noisy.forEach((value, i) => (sum += (value - clean[i]) ** 2));
    expectWithin(Math.sqrt(sum / noisy.length), Math.hypot(5, 1 / Math.sqrt(6)), {
      rel: 0.02,
      why: '57600 samples, two roundings',
    });
  });

  it('lose contrast along a fast move when the shutter is open', () => {
    const sharpness = (shutterAngleDeg: number) => {
      const frame = startFilm(
        resolveSynthOptions({
          ...SMALL,
          scene: 'measuring-wall',
          speedMps: 3,
          shutterAngleDeg,
          colour: false,
        }),
      ).frame(20);
      let sum = 0;
      for (let i = 1; i < frame.length; i++) sum += (frame[i] - frame[i - 1]) ** 2;
      return sum;
    };
    expect(sharpness(180)).toBeLessThan(0.7 * sharpness(0));
  });

  it('get darker and flatter when asked', () => {
    const spread = (given: object) => {
      const frame = startFilm(resolveSynthOptions({ ...SMALL, colour: false, noiseGrey: 0, ...given })).frame(
        0,
      );
      const mean = frame.reduce((sum, value) => sum + value, 0) / frame.length;
      return {
        mean,
        sd: Math.sqrt(frame.reduce((sum, value) => sum + (value - mean) ** 2, 0) / frame.length),
      };
    };
    const plain = spread({});
    expect(spread({ brightness: 0.2 }).mean).toBeLessThan(0.25 * plain.mean);
    expect(spread({ contrast: 0.4 }).sd).toBeLessThan(0.5 * plain.sd);
    expect(spread({ transfer: 'log' }).sd).toBeLessThan(0.7 * plain.sd);
  });
});
