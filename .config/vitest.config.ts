import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { defineConfig } from 'vitest/config';

const root = path.resolve(import.meta.dirname, '..');

// No test may touch the log or the deliveries of the person at this machine.
const dataFolder = path.join(os.tmpdir(), `trundle-tests-${process.pid}`);
process.on('exit', () => fs.rmSync(dataFolder, { recursive: true, force: true }));

export default defineConfig({
  root,
  test: {
    include: ['tests/**/*.test.ts'],
    pool: 'forks',
    maxWorkers: 2,
    testTimeout: 60_000,
    hookTimeout: 120_000,
    env: { TRUNDLE_DATA: dataFolder },
    reporters: ['default', ['json', { outputFile: path.join(root, '.cache/test-results.json') }]],
  },
});
