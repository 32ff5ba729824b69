/** Measures the clip of an errand by the built program, as Node.js does for a user, without a loader for TypeScript; tells when a frame was tracked. */
import { measure } from '../../../dist/measure.js';

const { clip, threads } = JSON.parse(process.argv[2]);
const rig = { focalLengthMm: 28, sensorWidthMm: 36, speedMps: 0.3 };
const stop = new AbortController();
const onProgress = (stage, done) => {
  if (stage !== 'track' || done !== 1) return;
  const { user, system } = process.cpuUsage();
  process.send({ wallS: performance.now() / 1000, cpuS: (user + system) / 1e6, frames: 1 });
  stop.abort();
};
await measure({ clip, rig }, { threads, onProgress, signal: stop.signal }).catch(() => undefined);
process.disconnect();
