/** Tracking worker: makes its share of each picture, follows and refines its share of the points and finds corners in its share of the buckets. */
import { parentPort, workerData } from 'node:worker_threads';
import { assert } from '../run/index.js';
import { openPair } from '../vision/index.js';
import { cornersInBucket } from './corners.js';
import { follow } from './follow.js';
import { scaleFor } from './options.js';
import { TemplateStore } from './template-store.js';
import type { WorkerAnswers, WorkerReply, WorkerRequest, WorkerSetup } from './protocol.js';

const port = parentPort;
assert(port, 'worker.ts is started as a worker thread');

const { share, hand } = workerData as WorkerSetup;
const scale = scaleFor(share.use.widthPx);
const { pair, heapBytes } = await openPair(share, hand);
const templates = new TemplateStore(pair.templates(scale.templateHalfPx), scale.templateReachPx);

function answer(request: WorkerRequest): WorkerAnswers[keyof WorkerAnswers] {
  switch (request.kind) {
    case 'load': {
      pair.push(share.frames[request.slot]);
      if (request.relight) pair.relightPrevious(request.relight.gain, request.relight.offset);
      return true;
    }
    case 'follow':
      return follow(pair, request, scale);
    case 'cut':
      templates.cut(request.tracks, request.points);
      return true;
    case 'refine':
      return templates.refine(request.tracks, request.points);
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
