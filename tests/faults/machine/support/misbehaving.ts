/** FFmpeg and ffprobe that misbehave on demand: shell scripts that call the real ones, or not. */
import { chmodSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import type { Tools } from '../../../../src/footage/index.js';

/** Lines of a script after which it has done its wrong; "$REAL" is the program that it stands for. */
export const WRONGS = {
  /** Killed before it gave anything. */
  'killed at once': 'kill -KILL $$',
  /** As a shell that wraps another program tells it. */
  'killed, as a wrapper tells it': 'exit 137',
  'crashed at once': 'kill -SEGV $$',
  'killed half-way': '"$REAL" "$@" | head -c 60000; kill -KILL $$',
  'crashed half-way': '"$REAL" "$@" | head -c 60000; kill -SEGV $$',
  'silent from the start': 'exec sleep 600',
  'silent half-way': '"$REAL" "$@" | head -c 60000; exec sleep 600',
  'talks rubbish': 'echo "good morning"',
} as const;

export type Wrong = keyof typeof WRONGS;

/**
 * A program that answers "-version" as the real one does, and does wrong whenever it is to work.
 * @param begin lines before that, for instance to leave its number
 */
export function misbehaving(folder: string, real: string, lines: string, begin = ''): string {
  const file = path.join(folder, `misbehaving-${Math.random().toString(36).slice(2)}`);
  const text = `#!/bin/sh\nREAL='${real}'\ncase "$*" in *-version*) exec "$REAL" "$@";; esac\n${begin}\n${lines}\n`;
  writeFileSync(file, text);
  chmodSync(file, 0o755);
  return file;
}

/** The tools with one of them replaced. */
export function withFfmpeg(tools: Tools, file: string): Tools {
  return { ...tools, ffmpeg: { ...tools.ffmpeg, path: file } };
}

/** As `withFfmpeg`. */
export function withFfprobe(tools: Tools, file: string): Tools {
  return { ...tools, ffprobe: { ...tools.ffprobe, path: file } };
}
