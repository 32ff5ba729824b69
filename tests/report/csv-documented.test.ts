import fs from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { logCsv } from '../../src/log/index.js';
import { motionCsv, sourcesCsv, spectrumCsv, thirdOctavesCsv } from '../../src/report/csv.js';
import { AXES } from '../../src/run/index.js';
import { madeUpBundle } from './support/made-up-bundle.js';

const README = fs.readFileSync(path.resolve(import.meta.dirname, '../../README.md'), 'utf8');
const { run, motion } = madeUpBundle();

const FILES: Record<string, string> = {
  'motion.csv': motionCsv(motion),
  'spectrum.csv': spectrumCsv(run.spectrum),
  'third-octaves.csv': thirdOctavesCsv(run.spectrum),
  'sources.csv': sourcesCsv(run.spectrum),
  'trundle log --csv': logCsv([]),
};

/** The part of the page that tells of one file: from its heading to the next. */
function partOn(file: string): string {
  const part = README.split(/^\*\*/m).find((text) => text.replaceAll('`', '').startsWith(`${file}**`));
  return (part ?? '').replaceAll('`', '');
}

/** The ways in which the page may write a column: as it is, for every axis, in every unit. */
function writtenAs(column: string): string[] {
  const axis = AXES.find((name) => column.startsWith(name));
  const general = axis === undefined ? column : `<axis>${column.slice(axis.length)}`;
  return [column, general, ...[column, general].map((name) => name.replace(/(Deg|Mm|Percent)$/, '<Unit>'))];
}

describe('the README', () => {
  it.each(Object.keys(FILES))('tells of every column of %s', (file) => {
    const part = partOn(file);
    const columns = FILES[file].split('\r\n')[0].split(',');
    expect(columns.length).toBeGreaterThan(2);
    const missing = columns.filter((column) => !writtenAs(column).some((name) => part.includes(name)));
    expect(missing).toEqual([]);
  });
});
