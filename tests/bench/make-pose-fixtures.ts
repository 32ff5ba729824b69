/**
 * Writes tests/reference/pose-tracks.json: short simulated passes, a few tracks each, with the true place of every
 * point, on which another pose estimator is compared with ours. `npx tsx tests/bench/make-pose-fixtures.ts`
 */
import fs from 'node:fs';
import path from 'node:path';
import { simulatePass, type Move, type PassOptions } from '../motion/support/simulated-tracks.js';
import { POSE_FIXTURE_FORMAT, type PoseFixture, type PosePass } from '../support/pose-fixture.js';

const TARGET = path.resolve(import.meta.dirname, '../reference/pose-tracks.json');

/** Few frames, far apart in time, so that the camera travels enough to show depths. */
const COMMON: Partial<PassOptions> = {
  fps: 10,
  durationS: 2.4,
  liveTracks: 65,
  meanLifeFrames: 40,
  grossShare: 0,
  subjectShare: 0.1,
  noisePx: 0.08,
  // Roll is seen five times less surely than the rest.
  axisDeg: [0.03, 0.03, 0.08],
};

const PASSES: readonly { name: string; move: Move; focalMm: number; seed: number }[] = [
  { name: 'lateral move, 35 mm', move: 'lateral', focalMm: 35, seed: 3 },
  { name: 'push-in, 24 mm', move: 'push', focalMm: 24, seed: 4 },
  { name: 'arc, 50 mm', move: 'arc', focalMm: 50, seed: 5 },
];

/** Thousandths of a pixel are an eightieth of the noise; a tenth of a millimetre is less than that at any distance here. */
const round = (value: number, digits: number): number => Number(value.toFixed(digits));

const passes = PASSES.map(({ name, ...options }): PosePass => {
  const { table, camera, travelM, onSubject, pointsM } = simulatePass({ ...COMMON, ...options });
  return {
    name,
    focalPx: round(camera.focalPx, 6),
    frameCount: table.frameCount,
    travelM: round(travelM, 5),
    tracks: Array.from({ length: table.trackCount }, (_, i) => {
      const range = [table.trackStart[i], table.trackStart[i + 1]] as const;
      return {
        firstFrame: table.obsFrame[range[0]],
        pointM: onSubject[i] ? null : Array.from(pointsM.subarray(3 * i, 3 * i + 3), (v) => round(v, 5)),
        xPx: Array.from(table.xPx.subarray(...range), (v) => round(v, 3)),
        yPx: Array.from(table.yPx.subarray(...range), (v) => round(v, 3)),
      };
    }),
  };
});
const fixture: PoseFixture = {
  format: POSE_FIXTURE_FORMAT,
  widthPx: 960,
  heightPx: 540,
  fps: 10,
  passes,
};
fs.writeFileSync(TARGET, JSON.stringify(fixture));
process.stdout.write(`${TARGET}: ${fs.statSync(TARGET).size} bytes\n`);
