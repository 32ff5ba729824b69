/** A worker process that measures nothing: it does what the notes of its settings say, in a few milliseconds. */
import fs from 'node:fs';
import path from 'node:path';
import { pathToFileURL } from 'node:url';

const SCRIPT = String.raw`
import { spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
const tell = (message, told = () => {}) => process.send(message, undefined, undefined, told);
const last = (message) => tell(message, () => process.exit(0));
const outcome = { run: 7, grade: 'pass', sentence: 'It will do.', problem: null, sha256: 'ab', changed: [7] };
const progress = (stage, done, total) => tell({ kind: 'progress', stage, done, total });
let deaf = false;
process.once('disconnect', () => process.exit(1));
const acts = {
  measures() {
    for (let done = 1; done <= 40; done++) progress('track', done, 40);
    tell({ kind: 'look', look: { timeS: 0.1, widthPx: 8, heightPx: 4, picture: 'data:image/jpeg;base64,', points: [1, 2] } });
    tell({ kind: 'trace', samples: { timeS: [0, 0.04], panDeg: [0, 1], tiltDeg: [0, 2], rollDeg: [0, 3] } });
    progress('write', 0, null);
    last({ kind: 'done', outcome });
  },
  waits() {
    progress('track', 1, 100);
    tell({ kind: 'look', look: { timeS: 0.1, widthPx: 8, heightPx: 4, picture: 'data:image/jpeg;base64,', points: [1, 2] } });
    tell({ kind: 'trace', samples: { timeS: [0, 0.04], panDeg: [0, 1], tiltDeg: [0, 2], rollDeg: [0, 3] } });
    setInterval(() => {}, 1000);
  },
  ignores() {
    deaf = true;
    // Stands for FFmpeg: a process of its own that does not end with the worker.
    const child = spawn('sleep', ['60'], { stdio: 'ignore' });
    progress('track', child.pid, null);
    setInterval(() => {}, 1000);
  },
  crashes() {
    progress('track', 1, 100);
    process.exit(7);
  },
  dies({ outDir }) {
    const folder = path.join(outDir, 'hall');
    fs.mkdirSync(folder, { recursive: true });
    // As a folder is called that is being written: by this machine, by this process.
    const machine = createHash('sha256').update(os.hostname()).digest('hex').slice(0, 6);
    const half = path.join(outDir, '.hall-writing-' + machine + '.' + process.pid + '.0a1b2c3d');
    fs.mkdirSync(half);
    fs.writeFileSync(path.join(half, 'run.json'), '{');
    tell({ kind: 'writing', folder, made: true }, () => process.kill(process.pid, 'SIGKILL'));
  },
  refuses() {
    last({ kind: 'failed', problem: { type: 'about:blank', title: 'x', status: 422, code: 'clip-too-short', detail: 'The clip is too short.' } });
  },
  'keeps nothing'() {
    const problem = { type: 'about:blank', title: 'x', status: 507, code: 'log-unwritable', detail: 'The report is in "x".' };
    last({ kind: 'done', outcome: { ...outcome, run: null, changed: [], problem } });
  },
};
process.on('message', (message) => {
  if (message.kind === 'start') acts[message.task.settings.notes](message.task);
  else if (!deaf)
    last({ kind: 'failed', problem: { type: 'about:blank', title: 'x', status: 422, code: 'interrupted', detail: 'Stopped.' } });
});
tell({ kind: 'ready' });
`;

/** Writes its script. @returns where it is */
export function writeFakeWorker(folder: string): URL {
  return written(folder, 'fake-worker.mjs', SCRIPT);
}

/** Writes one that never says a word. @returns where it is */
export function writeMuteWorker(folder: string): URL {
  return written(folder, 'mute-worker.mjs', 'setInterval(() => {}, 1000);');
}

function written(folder: string, name: string, script: string): URL {
  const file = path.join(folder, name);
  fs.writeFileSync(file, script);
  return pathToFileURL(file);
}
