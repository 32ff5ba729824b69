/** Measures a clip through the whole program and checks what has to hold for every outcome. */
import fs from 'node:fs';
import path from 'node:path';
import { expect } from 'vitest';
import { parseRun, type RunDocument } from '../../../../src/run/index.js';
import { runWords, type CliResult } from '../../../support/recorded-io.js';

/** What a person gets. */
export interface MeasuredClip extends CliResult {
  /** Null when the clip was refused. */
  readonly run: RunDocument | null;
  readonly reportFolder: string;
  /** Codes of the warnings of the run. */
  readonly codes: readonly string[];
}

/**
 * Measures into a folder beside the clip. Whatever happens: no stack trace; a run and its report, or one sentence with a code
 * and nothing written.
 */
export async function measureClip(clip: string, ...words: readonly string[]): Promise<MeasuredClip> {
  const outDir = path.join(path.dirname(path.resolve(clip)), 'out');
  const result = await runWords(
    ...['measure', '--json', '--unlogged', '--out-dir', outDir, ...words, '--', clip],
  );
  expect(result.err).not.toMatch(/\n\s+at /);
  const reportFolder = path.join(outDir, path.basename(clip, path.extname(clip)));
  const isMeasured = result.status === 0 || result.status === 4;
  expect(fs.existsSync(path.join(reportFolder, 'run.json'))).toBe(isMeasured);
  expect(fs.existsSync(path.join(reportFolder, 'report.html'))).toBe(isMeasured);
  const names = fs.existsSync(outDir) ? fs.readdirSync(outDir) : [];
  expect(names.filter((name) => name.startsWith('.'))).toEqual([]);
  if (!isMeasured) {
    expect(result.out).toBe('');
    expect(result.err.trim().split('\n')).toHaveLength(1);
    expect(result.err).toMatch(/ \[[a-z-]+\]\n$/);
  }
  const run = isMeasured ? parseRun(JSON.parse(result.out)) : null;
  return { ...result, run, reportFolder, codes: run?.warnings.map(({ code }) => code) ?? [] };
}
