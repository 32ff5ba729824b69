/**
 * A motion log as text to columns: time stamps in seconds and angular rates of the camera in rad/s, from comma-separated
 * lines under a header that names each column with its unit.
 */
import { median } from '../../numerics/index.js';
import { ANGULAR_AXES, TrundleError, nearestName, type AngularAxis } from '../../run/index.js';

/** Angular rates of the camera, recorded on it. */
export interface MotionLog {
  /** Seconds on the log's own clock, length n, strictly rising. */
  readonly timeS: Float64Array;
  /** Rates in rad/s, length n: pan + right, tilt + up, roll + clockwise from behind. An axis the log lacks is absent. */
  readonly ratesRadPerS: Readonly<Partial<Record<AngularAxis, Float64Array>>>;
  /** One over the median interval of the stamps. */
  readonly rateHz: number;
  /** Stretches without samples, longer than 5 intervals, or than 2 where those take over 0.06 s. */
  readonly gaps: readonly LogGap[];
}

/** A stretch without samples, seconds on the log's clock. */
export interface LogGap {
  readonly fromS: number;
  readonly toS: number;
}

/** Slower logs see less than the pictures do. */
const LEAST_RATE_HZ = 10;
/** So many missing samples are worth a word ... */
const GAP_SAMPLES = 5;
/** ... and in slow logs so few that take so long, seconds: shake can turn round meanwhile. */
const SLOW_GAP_SAMPLES = 2;
const SLOW_GAP_S = 0.06;
const FEWEST_SAMPLES = 20;

const TIME = 'timeS';
const UNITS: Readonly<Record<string, number>> = { DegPerS: Math.PI / 180, RadPerS: 1 };
/** Rate columns by name: the axis they hold and the factor to rad/s. */
const RATE_COLUMNS: ReadonlyMap<string, { readonly axis: AngularAxis; readonly factor: number }> = new Map(
  ANGULAR_AXES.flatMap((axis) =>
    Object.entries(UNITS).map(([unit, factor]) => [`${axis}${unit}`, { axis, factor }] as const),
  ),
);
const EXAMPLE = 'timeS,panDegPerS,tiltDegPerS,rollDegPerS';
const NUMBER = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?$/i;

interface Column {
  readonly name: string;
  readonly axis: AngularAxis | null;
  readonly factor: number;
  readonly values: number[];
}

/**
 * Reads the text of a motion log.
 *
 * The first line that is neither blank nor a comment ("#") names the columns: `timeS`, and for each axis that was
 * recorded `panDegPerS`, `tiltDegPerS`, `rollDegPerS` or the same with `RadPerS`. Values stand between commas, or between
 * semicolons when the header does so; then a decimal comma is read too. A byte order mark, CRLF line ends and double
 * quotes around a value are allowed.
 *
 * @param where the file's name, for the sentence of a refusal
 * @throws TrundleError `motion-log-invalid` naming the line, the column and the value; also for stamps that do not rise,
 *   fewer than 20 samples, or less than 10 samples a second
 */
export function parseMotionLog(text: string, where: string): MotionLog {
  const lines = text.replace(/^\uFEFF/, '').split(/\r\n|\n|\r/);
  const refuse = (sentence: string, line?: number): never => {
    const place = line === undefined ? '' : `, line ${line}`;
    throw new TrundleError('motion-log-invalid', `The motion log "${where}"${place}: ${sentence}`);
  };

  let columns: Column[] | null = null;
  let separator = ',';
  lines.forEach((text, at) => {
    const line = at + 1;
    const content = text.trim();
    if (content === '' || content.startsWith('#')) return;
    if (columns === null) {
      separator = content.includes(';') ? ';' : ',';
      columns = header(cells(content, separator), (sentence) => refuse(sentence, line));
      return;
    }
    readLine(cells(content, separator), columns, separator === ';', (sentence) => refuse(sentence, line));
  });
  if (columns === null) return refuse(`it is empty; its first line must name the columns, like ${EXAMPLE}.`);
  return checkedLog(columns, (sentence) => refuse(sentence));
}

function cells(line: string, separator: string): string[] {
  return line.split(separator).map((cell) => cell.trim().replace(/^"(.*)"$/, '$1'));
}

function header(names: readonly string[], refuse: (sentence: string) => never): Column[] {
  const known = [TIME, ...RATE_COLUMNS.keys()];
  const columns = names.map((name): Column => {
    const rate = RATE_COLUMNS.get(name);
    if (name !== TIME && !rate) {
      refuse(
        NUMBER.test(name)
          ? `a header must name the columns first, like ${EXAMPLE}.`
          : `there is no column "${name}"; the nearest is "${nearestName(name, known)}".`,
      );
    }
    return { name, axis: rate?.axis ?? null, factor: rate?.factor ?? 1, values: [] };
  });
  if (!names.includes(TIME)) refuse(`the column "${TIME}" is missing.`);
  if (columns.length < 2) refuse(`it needs at least one rate besides "${TIME}", like panDegPerS.`);
  columns.forEach(({ name, axis }, i) => {
    const first = columns.findIndex((other) => other.axis === axis);
    if (first !== i) refuse(`"${columns[first].name}" and "${name}" hold the same thing; keep one.`);
  });
  return columns;
}

function readLine(
  values: readonly string[],
  columns: readonly Column[],
  decimalComma: boolean,
  refuse: (sentence: string) => never,
): void {
  if (values.length !== columns.length)
    refuse(`it has ${values.length} values where the header names ${columns.length} columns.`);
  columns.forEach(({ name, values: column }, i) => {
    const plain = decimalComma ? values[i].replace(',', '.') : values[i];
    const value = NUMBER.test(plain) ? Number(plain) : NaN;
    if (!Number.isFinite(value))
      refuse(
        values[i] === '' ? `${name} is empty.` : `${name} is not a number: "${values[i].slice(0, 40)}".`,
      );
    if (name === TIME && column.length > 0) {
      const before = column[column.length - 1];
      if (value === before) refuse(`the time stamp ${value} s stands twice.`);
      if (value < before) refuse(`the time goes back from ${before} s to ${value} s.`);
    }
    column.push(value);
  });
}

function checkedLog(columns: readonly Column[], refuse: (sentence: string) => never): MotionLog {
  const timeS = Float64Array.from(columns.find(({ name }) => name === TIME)?.values ?? []);
  if (timeS.length < FEWEST_SAMPLES) refuse(`${timeS.length} samples are too few to compare with a clip.`);
  const intervals = timeS.subarray(1).map((s, k) => s - timeS[k]);
  const intervalS = median(intervals);
  const rateHz = 1 / intervalS;
  if (rateHz < LEAST_RATE_HZ)
    refuse(
      `its ${Number(rateHz.toPrecision(3))} samples a second are too slow, at least ${LEAST_RATE_HZ} are needed (timeS counts in seconds).`,
    );
  const ratesRadPerS: Partial<Record<AngularAxis, Float64Array>> = {};
  for (const { axis, factor, values } of columns) {
    if (axis) ratesRadPerS[axis] = Float64Array.from(values, (value) => value * factor);
  }
  const gaps = Array.from(intervals.keys())
    .filter(
      (k) =>
        intervals[k] > (GAP_SAMPLES + 0.5) * intervalS ||
        (intervals[k] > (SLOW_GAP_SAMPLES + 0.5) * intervalS && intervals[k] > SLOW_GAP_S),
    )
    .map((k) => ({ fromS: timeS[k], toS: timeS[k + 1] }));
  return { timeS, ratesRadPerS, rateHz, gaps };
}
