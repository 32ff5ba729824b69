/** Tracking worker: makes its share of each picture, follows and refines its share of the points and finds corners in its share of the buckets. */
import { parentPort, workerData } from 'node:worker_threads';
import { assert } from '../run/plain.js';
import { openPair } from '../vision/plain.js';
import { cornersInBucket } from './corners.js';
import { follow } from './follow.js';
import { scaleFor } from './options.js';
import { TemplateStore } from './template-store.js';
import type {
  Followed,
  StepRequest,
  WorkerAnswers,
  WorkerReply,
  WorkerRequest,
  WorkerSetup,
} from './protocol.js';

const port = parentPort;
assert(port, 'worker.ts is started as a worker thread');

const { share, hand } = workerData as WorkerSetup;
const scale = scaleFor(share.use.widthPx);
const { pair, heapBytes } = await openPair(share, hand);
const templates = new TemplateStore(pair.templates(scale.template), scale.templateReachPx);

let latest: StepRequest | undefined;

/** Follows and refines from the previous picture into the current one; before the second picture there is nothing to follow. */
function step({ tracks, points, predicted, refine }: StepRequest, thorough: boolean): Followed {
  const followed = follow(pair, { points, predicted, thorough }, scale);
  return refine ? templates.refine(tracks, followed) : followed;
}

function answer(request: WorkerRequest): WorkerAnswers[keyof WorkerAnswers] {
  switch (request.kind) {
    case 'step': {
      const { cut, slot, relight } = request;
      latest = request;
      templates.cut(cut.tracks, cut.points);
      pair.push(share.frames[slot]);
      if (relight) pair.relightPrevious(relight.gain, relight.offset);
      return step(request, false);
    }
    case 'again':
      assert(latest, 'a step was done before it is done again');
      if (latest.refine) templates.undo();
      return step(latest, true);
    case 'corners':
      return request.buckets.map((bucket) => cornersInBucket(pair, bucket, scale));
    case 'heap':
      return heapBytes();
  }
}

function reply(message: WorkerReply): void {
  port?.postMessage(message);
}

port.on('message', (request: WorkerRequest) => {
  try {
    reply({ kind: 'answer', answer: answer(request) });
  } catch (error) {
    reply({
      kind: 'failed',
      message: error instanceof Error ? (error.stack ?? error.message) : String(error),
    });
  }
});
reply({ kind: 'ready' });
