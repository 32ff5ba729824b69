import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { defineConfig, type ViteUserConfig } from 'vitest/config';

type Plugin = Extract<NonNullable<ViteUserConfig['plugins']>[number], { name: string }>;

const root = path.resolve(import.meta.dirname, '..');

// No test may touch the log or the deliveries of the person at this machine.
const dataFolder = path.join(os.tmpdir(), `trundle-tests-${process.pid}`);
process.on('exit', () => fs.rmSync(dataFolder, { recursive: true, force: true }));

/** Whole clips: files of minutes, which share processes, so that modules load once and the textures of the scenes are drawn once. */
const CLIPS = ['tests/end-to-end/**/*.test.ts'];

/**
 * Files that change what all of a process sees (its environment, clock, folder or modules), or that look at their process from outside.
 * All others leave nothing behind and share processes as well.
 */
const ALONE = [
  ...['clock', 'disks', 'ffmpeg', 'interrupts', 'workers'].map(
    (name) => `tests/faults/machine/${name}.test.ts`,
  ),
  'tests/faults/media/measured-clips.test.ts',
  ...['binaries', 'hostile-names', 'packaged-browser'].map((name) => `tests/security/${name}.test.ts`),
  'tests/fuzz/short.test.ts',
  'tests/watch-tracking.test.ts',
];

/**
 * Threads and processes that the program starts come from the build where it has just been made: from source each of them would have to
 * load a compiler first, which costs more than what most of them do. Whoever runs single files gets them from source.
 */
const builtWorkers: Plugin = {
  name: 'built-workers',
  enforce: 'pre',
  apply: () => process.env['npm_lifecycle_event'] === 'test',
  transform(code, id) {
    const place = path.relative(path.join(root, 'src'), id);
    if (place.startsWith('..') || !/import\.meta\.url\.endsWith\('\.ts'\)|workerBeside\(/.test(code))
      return null;
    const built = pathToFileURL(path.join(root, 'dist', place.replace(/\.ts$/, '.js')));
    return { code: code.replaceAll('import.meta.url', JSON.stringify(built.href)), map: null };
  },
};

export default defineConfig({
  root,
  plugins: [builtWorkers],
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
        test: { name: 'own process', include: ALONE },
      },
      {
        extends: true,
        test: {
          name: 'shared process',
          include: ['tests/**/*.test.ts'],
          exclude: [...CLIPS, ...ALONE],
          isolate: false,
        },
      },
    ],
  },
});
