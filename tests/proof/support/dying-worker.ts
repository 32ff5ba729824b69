/** A worker that dies at its second frame. */
import { parentPort } from 'node:worker_threads';

let asked = 0;
parentPort?.on('message', ({ planes }: { planes: Uint8Array[] }) => {
  if (++asked === 2) process.exit(3);
  parentPort?.postMessage({ planes, outsidePx: 0 });
});
