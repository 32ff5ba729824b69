/** Makes small clips for tests by FFmpeg's own sources and filters, with the FFmpeg that the program itself finds. */
import { execFile } from 'node:child_process';
import { promisify } from 'node:util';
import { findTools } from '../../src/footage/index.js';

const run = promisify(execFile);

/** Runs FFmpeg with the words given, overwriting its output; throws with FFmpeg's own message. */
export async function runFfmpeg(...words: string[]): Promise<void> {
  const { ffmpeg } = await findTools();
  await run(ffmpeg.path, ['-hide_banner', '-loglevel', 'error', '-y', ...words], { maxBuffer: 1 << 24 });
}
