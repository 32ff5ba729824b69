import os from 'node:os';
import path from 'node:path';
import { defineConfig } from 'vitest/config';

const root = path.resolve(import.meta.dirname, '..');

export default defineConfig({
  root,
  test: {
    include: ['tests/**/*.test.ts'],
    pool: 'forks',
    maxWorkers: 2,
    testTimeout: 60_000,
    hookTimeout: 120_000,
    // No test may touch the log or the deliveries of the person at this machine.
    env: { TRUNDLE_DATA: path.join(os.tmpdir(), `trundle-tests-${process.pid}`) },
    reporters: ['default', ['json', { outputFile: path.join(root, '.cache/test-results.json') }]],
  },
});
