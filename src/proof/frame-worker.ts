/** A worker that makes frames of one proof: started with the recipe, asked frame by frame. */
import { parentPort, workerData } from 'node:worker_threads';
import { assert } from '../run/index.js';
import { FrameMaker, type FrameRecipe } from './frame-maker.js';
import type { FrameErrand, FrameReply } from './frame-pool.js';

const port = parentPort;
assert(port, 'frame-worker.ts is started as a worker thread');
const maker = new FrameMaker(workerData as FrameRecipe);

port.on('message', ({ planes, timeS }: FrameErrand) => {
  const made: FrameReply = maker.make(planes, timeS);
  port.postMessage(
    made,
    made.planes.map((plane) => plane.buffer as ArrayBuffer),
  );
});
