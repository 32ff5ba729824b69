/** Prints every data file of the made-up run and how this machine writes a number, for a process of another locale. */
import { motionCsv, sourcesCsv, spectrumCsv, thirdOctavesCsv } from '../../../src/report/csv.js';
import { jsonText } from '../../../src/report/json-text.js';
import { madeUpBundle } from './made-up-bundle.js';

/** The files by name. */
export function dataFiles(): Record<string, string> {
  const { run, motion, series } = madeUpBundle();
  return {
    'run.json': jsonText(run),
    'series.json': JSON.stringify(series),
    'motion.csv': motionCsv(motion),
    'spectrum.csv': spectrumCsv(run.spectrum),
    'third-octaves.csv': thirdOctavesCsv(run.spectrum),
    'sources.csv': sourcesCsv(run.spectrum),
  };
}

if (process.argv[2] === 'print')
  process.stdout.write(JSON.stringify({ oneAndAHalf: (1.5).toLocaleString(), files: dataFiles() }));
