/** Made-up clips for tests, filmed once and kept under .cache/clips/, named after their settings and the renderer's own source. */
import { createHash } from 'node:crypto';
import fs from 'node:fs';
import path from 'node:path';
import { findTools } from '../../src/footage/index.js';
import {
  readTruth,
  resolveSynthOptions,
  synthesise,
  type PartialSynthOptions,
  type SynthTruth,
} from '../../src/synth/index.js';

const ROOT = path.resolve(import.meta.dirname, '../..');
const CACHE = path.join(ROOT, '.cache/clips');

/** A clip with its truth and rig files. */
export interface MadeUpClip {
  readonly clipFile: string;
  readonly rigFile: string;
  readonly truth: SynthTruth;
}

/** Films a clip, or takes it from the cache. `name` only helps a person who looks into the folder. */
export async function madeUpClip({
  name,
  ...given
}: PartialSynthOptions & { readonly name: string }): Promise<MadeUpClip> {
  const options = resolveSynthOptions(given);
  const key = createHash('sha256')
    .update(JSON.stringify(options))
    .update(rendererSource())
    .digest('hex')
    .slice(0, 12);
  const stem = path.join(CACHE, `${name}-${key}`);
  const files = { clipFile: `${stem}.mp4`, truthFile: `${stem}.truth.json`, rigFile: `${stem}.rig.json` };
  if (!Object.values(files).every((file) => fs.existsSync(file))) {
    fs.mkdirSync(CACHE, { recursive: true });
    await synthesise(options, files, await findTools(), { threads: 1 });
  }
  return { clipFile: files.clipFile, rigFile: files.rigFile, truth: readTruth(files.truthFile) };
}

let source: string | null = null;

/** The source of the rooms that decide what a made-up clip looks like. */
function rendererSource(): string {
  source ??= ['synth', 'footage/encode.ts']
    .flatMap((part) => {
      const place = path.join(ROOT, 'src', part);
      return fs.statSync(place).isDirectory()
        ? fs
            .readdirSync(place, { recursive: true, encoding: 'utf8' })
            .filter((name) => name.endsWith('.ts'))
            .sort()
            .map((name) => path.join(place, name))
        : [place];
    })
    .map((file) => fs.readFileSync(file, 'utf8'))
    .join('\n');
  return source;
}
