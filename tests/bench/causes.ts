/**
 * What peaks and names are worth, on simulated passes whose truth is known, as Markdown tables: floors alone, lines of known strength,
 * many causes at once, a speed that wanders, and two runs.
 */
import { quantile } from '../../src/numerics/index.js';
import { falseAlarms, floorPass, type FloorCase } from '../spectrum/support/floor-trials.js';
import { lineFigures, lineTrials } from '../spectrum/support/line-trials.js';
import { namingFigures, namingTrials, type NamingTrial } from '../spectrum/support/naming-trials.js';
import { SIMULATED_AXES, type SimulatedAxis } from '../spectrum/support/simulated-pass.js';
import { travelFigures } from '../spectrum/support/travel-trials.js';
import { twoRunFigures, type KindFigures } from '../spectrum/support/two-run-trials.js';

type Write = (text: string) => void;

/** Floors alone: rate, duration, speed and how many of them are driven. */
const FLOORS: readonly (FloorCase & { readonly runs: number })[] = [
  { rateHz: 25, durationS: 5, speedMps: 0.2, runs: 200 },
  { rateHz: 25, durationS: 10, speedMps: 0.1, runs: 200 },
  { rateHz: 25, durationS: 10, speedMps: 0.2, runs: 200 },
  { rateHz: 25, durationS: 10, speedMps: 0.5, runs: 200 },
  { rateHz: 50, durationS: 10, speedMps: 0.2, runs: 200 },
  { rateHz: 25, durationS: 20, speedMps: 0.2, runs: 200 },
  { rateHz: 50, durationS: 30, speedMps: 0.5, runs: 60 },
];
const STRENGTHS = [8, 12, 16, 24, 30, 40, 80];
const LINE_RUNS = 100;
const SPEEDS_MPS = [0.1, 0.2, 0.5];
const NAMING_RUNS = 60;
const WANDERS = [0.005, 0.01, 0.02, 0.05];
const WANDER_RUNS = 60;
const RATIOS = [1.05, 1.1, 1.2, 1.5];
const PAIRS = 60;

const TABLES: Readonly<Record<string, (write: Write) => void>> = {
  alarms: printAlarms,
  lines: printLines,
  names: printNames,
  wander: printWander,
  runs: printRuns,
};

/** Prints the tables that `words` name, all when there are none. */
export function printCauseTables(words: readonly string[], write: Write): void {
  for (const [name, print] of Object.entries(TABLES))
    if (words.length === 0 || words.includes(name)) print(write);
}

const percent = (share: number, digits = 0): string => (100 * share).toFixed(digits);
const line = (cells: readonly (string | number)[]): string => `| ${cells.join(' | ')} |\n`;
const head = (cells: readonly string[]): string => line(cells) + line(cells.map(() => '---'));

function printAlarms(write: Write): void {
  write(
    'Floors alone, spectra in 100 that show any peak: speed told 2 % and wheelbase 5 mm off, w 1.6, 2 and 2.5, wander 1 %.\n\n',
  );
  write(head(['pass', 'runs', ...SIMULATED_AXES]));
  for (const { runs, ...how } of FLOORS) {
    const alarms = falseAlarms((seed) => floorPass(how, 10_000 + seed), runs);
    const name = `${how.rateHz} fps, ${how.durationS} s, ${how.speedMps} m/s`;
    write(line([name, runs, ...SIMULATED_AXES.map((axis) => percent(alarms[axis] / runs, 1))]));
  }
  write('\n');
}

function printLines(write: Write): void {
  write(
    `One line, 10 s, 0.2 and 0.5 m/s, ${2 * LINE_RUNS} passes each: found in % of them; errors of frequency within 1 / (T sqrt rho) in %; bias and sd of the amplitude in %; sd times sqrt rho.\n\n`,
  );
  write(head(['axis', 'rho', 'found', 'frequency', 'bias', 'sd', 'sd sqrt rho']));
  for (const axis of SIMULATED_AXES) {
    for (const rho of STRENGTHS) {
      const trials = [0.2, 0.5].flatMap((speedMps) => lineTrials(axis, rho, LINE_RUNS, { speedMps }));
      const { found, near, bias, spread } = lineFigures(trials, rho, 10);
      const cells = [found, near, bias, spread].map((share) => percent(share));
      write(line([axis, rho, ...cells, (spread * Math.sqrt(rho)).toFixed(2)]));
    }
  }
  write('\n');
}

function printNames(write: Write): void {
  for (const axis of SIMULATED_AXES) {
    for (const durationS of axis === 'tilt' ? [5, 10, 20] : [10])
      printNaming(axis, durationS, namingTrials(axis, SPEEDS_MPS, durationS, NAMING_RUNS), write);
  }
}

const ROWS = {
  wheel: 'wheel',
  joint: 'joint',
  machine: 'machine',
  mount: 'mount',
  unknown: 'unlisted',
  none: 'nothing',
};
const NAMES = ['wheel', 'joint', 'machine', 'mount', 'unknown'] as const;

function printNaming(
  axis: SimulatedAxis,
  durationS: number,
  trials: readonly NamingTrial[],
  write: Write,
): void {
  const { table, unseen, peaks, right, wrong, claims, speedErrors } = namingFigures(trials);
  write(
    `Names on ${axis}, ${durationS} s, ${trials.length} passes at 0.1, 0.2 and 0.5 m/s; rows what is there, of which peaks were found.\n\n`,
  );
  write(head(['', ...NAMES, 'not seen']));
  for (const [row, name] of Object.entries(ROWS) as [keyof typeof ROWS, string][])
    write(line([name, ...NAMES.map((cause) => table[row][cause]), row === 'none' ? '-' : unseen[row]]));
  const said = Object.entries(claims).map(([range, claim]) => `${range}: ${claim.right} of ${claim.made}`);
  const speed = [0.5, 0.9].map((p) => percent(quantile(speedErrors, p), 2));
  write(
    `\n${right} right, ${wrong} wrong (${percent(wrong / peaks, 1)} %) of ${peaks}. Names right by probability: ${said.join('; ')}. ` +
      `Speed from 0.2 m/s on: ${speed[0]} % in the middle, ${speed[1]} % in 9 of 10.\n\n`,
  );
}

function printWander(write: Write): void {
  write(
    `Time or way by the wander of the speed, 10 s: lines told right/wrong of seen, of ${WANDER_RUNS}.\n\n`,
  );
  write(head(['cycles', 'wander', 'rho 12', 'rho 25', 'rho 60']));
  for (const cycles of [20, 60]) {
    for (const wander of WANDERS) {
      const cells = [12, 25, 60].map((rho) => {
        const { right, wrong, seen } = travelFigures(wander, rho, cycles, WANDER_RUNS);
        return `${right}/${wrong} of ${seen}`;
      });
      write(line([cycles, `${percent(wander, 1)} %`, ...cells]));
    }
  }
  write('\n');
}

function printRuns(write: Write): void {
  write(
    `Two runs of tilt, lines of strength 15 to 50: right/wrong of those seen, the rest left open; ${PAIRS} pairs.\n\n`,
  );
  write(head(['speeds apart', 'T', 'frequency', 'wavelength', 'in one run only']));
  const cell = ({ right, wrong, said }: KindFigures): string => `${right}/${wrong} of ${said}`;
  for (const ratio of RATIOS) {
    for (const durationS of [5, 10]) {
      const { frequency, wavelength, oneRun } = twoRunFigures(ratio, durationS, PAIRS);
      write(line([ratio, `${durationS} s`, cell(frequency), cell(wavelength), cell(oneRun)]));
    }
  }
  write('\n');
}
