import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { defineConfig } from 'vitest/config';

const root = path.resolve(import.meta.dirname, '..');

// No test may touch the log or the deliveries of the person at this machine.
const dataFolder = path.join(os.tmpdir(), `trundle-tests-${process.pid}`);
process.on('exit', () => fs.rmSync(dataFolder, { recursive: true, force: true }));

/** Rooms whose tests leave nothing behind in their process: they may share one, which then loads the modules once. */
const SHARED = [
  'run',
  'texts',
  'numerics',
  'optics',
  'motion',
  'surface',
  'spectrum',
  'stabilise',
  'judge',
  'settings',
  'report',
  'reference',
  'footage',
  'tracking',
  'vision',
  'log',
  'synth',
  'proof',
  'cli',
  'web/setups',
  'web/runs',
  'web/server',
  'web/clips',
  'web/page',
].map((room) => `tests/${room}/**/*.test.ts`);

/** Whole clips: files of minutes, which share a process as well, so that the textures of the scenes are drawn once. */
const CLIPS = ['tests/end-to-end/**/*.test.ts'];

export default defineConfig({
  root,
  test: {
    pool: 'forks',
    maxWorkers: 2,
    testTimeout: 60_000,
    hookTimeout: 120_000,
    env: { TRUNDLE_DATA: dataFolder },
    reporters: ['default', ['json', { outputFile: path.join(root, '.cache/test-results.json') }]],
    // They run in the order of their names: the longest files first, so that no core is left with one of them at the end.
    projects: [
      { extends: true, test: { name: 'clips', include: CLIPS, isolate: false } },
      {
        extends: true,
        test: { name: 'own process', include: ['tests/**/*.test.ts'], exclude: [...CLIPS, ...SHARED] },
      },
      { extends: true, test: { name: 'shared process', include: SHARED, isolate: false } },
    ],
  },
});
