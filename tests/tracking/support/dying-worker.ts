/** A worker that reports for duty and dies at its first request. */
import { parentPort } from 'node:worker_threads';

parentPort?.on('message', () => process.exit(3));
parentPort?.postMessage({ kind: 'ready' });
