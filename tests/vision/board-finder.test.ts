import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { CALIBRATION_BOARD, type BoardCrossings } from '../../src/optics/index.js';
import { startVision, type BoardFinder, type Vision } from '../../src/vision/index.js';
import { boardCamera, boardPainter, trueCrossings, type BoardPose } from '../support/board-clip.js';
import { expectWithin } from '../support/expect-within.js';

const [WIDTH, HEIGHT] = [960, 540];
const CAMERA = boardCamera(WIDTH, HEIGHT, 640, { k1: -0.27, k2: 0.09 });
const FACING: BoardPose = { turn: [0, 0, 0], at: [0, 0, 9] };
const FAR: BoardPose = { turn: [0.5, 0.3, 0.3], at: [0, 0, 22] };
const CUT_OFF: BoardPose = { turn: [-0.4, -0.4, 0.1], at: [4, -2, 8] };

describe('the board finder', () => {
  let vision: Vision;
  let finder: BoardFinder;
  let paint: (pose: BoardPose | null) => Uint8Array;

  beforeAll(async () => {
    vision = await startVision();
    finder = vision.openBoardFinder(CALIBRATION_BOARD);
    paint = await boardPainter({ camera: CAMERA });
  });
  afterAll(() => finder.close());

  const look = (grey: Uint8Array): BoardCrossings => finder.find({ widthPx: WIDTH, heightPx: HEIGHT, grey });

  it.each([
    ['facing the lens', FACING, 54, 54],
    ['far away and tilted', FAR, 54, 54],
    ['cut off by the frame, with squares of 25 px on one side', CUT_OFF, 25, 53],
  ])('finds a board %s to a few hundredths of a pixel, unbiased', (_, pose, least, most) => {
    const found = look(paint(pose));
    expect(found.ids.length).toBeGreaterThanOrEqual(least);
    expect(found.ids.length).toBeLessThanOrEqual(most);
    const truth = trueCrossings(CAMERA, pose);
    let [meanX, meanY, square, worst] = [0, 0, 0, 0];
    found.ids.forEach((id, i) => {
      const dx = found.xPx[i] - truth[id]!.xPx;
      const dy = found.yPx[i] - truth[id]!.yPx;
      meanX += dx / found.ids.length;
      meanY += dy / found.ids.length;
      square += (dx * dx + dy * dy) / found.ids.length;
      worst = Math.max(worst, Math.hypot(dx, dy));
    });
    const noise = { abs: 0.03, why: 'noise of 1.5 grey levels, averaged over the board' };
    expectWithin(meanX, 0, noise, 'mean error in x');
    expectWithin(meanY, 0, noise, 'mean error in y');
    expectWithin(
      Math.sqrt(square),
      0,
      { abs: 0.08, why: 'what 16 rays per pixel and the noise allow' },
      'RMS',
    );
    expectWithin(worst, 0, { abs: 0.25, why: 'no crossing on a marker instead' }, 'worst crossing');
  });

  it('finds nothing on a bare wall, also right after a board', () => {
    look(paint(FACING));
    expect(look(paint(null)).ids).toHaveLength(0);
  });

  it('tells the crossings of a half covered board by their own numbers', () => {
    const grey = paint(FACING);
    for (let row = 0; row < HEIGHT; row++) grey.fill(110, row * WIDTH, row * WIDTH + WIDTH / 2);
    const found = look(grey);
    expect(found.ids.length).toBeGreaterThan(18);
    const truth = trueCrossings(CAMERA, FACING);
    found.ids.forEach((id, i) => expectWithin(found.xPx[i], truth[id]!.xPx, { abs: 0.3 }, `crossing ${id}`));
  });

  it('refuses a picture whose bytes do not fit its size', () => {
    expect(() => finder.find({ widthPx: WIDTH, heightPx: HEIGHT, grey: new Uint8Array(9) })).toThrow(
      /grey: expected 518400 bytes/,
    );
  });

  it('gives its memory back after each picture', () => {
    const grey = paint(FACING);
    look(grey);
    const before = vision.heapBytes();
    for (let i = 0; i < 40; i++) look(grey);
    expect(vision.heapBytes()).toBe(before);
  });

  it('gives markers with a black border and distinct patterns', () => {
    const patterns = Array.from({ length: 35 }, (_, id) => vision.markerCells(CALIBRATION_BOARD, id));
    for (const cells of patterns) {
      expect(cells).toHaveLength(36);
      for (let i = 0; i < 6; i++)
        expect([cells[i], cells[30 + i], cells[6 * i], cells[6 * i + 5]]).toEqual([1, 1, 1, 1]);
    }
    expect(new Set(patterns.map((cells) => cells.join(''))).size).toBe(35);
  });
});
