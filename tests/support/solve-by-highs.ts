/** The programme of `leastAbsolute` solved by a general-purpose solver: HiGHS (Huangfu & Hall 2018), simplex, through its text format. */
import highsModule from 'highs';
import type { SparseRows } from '../../src/numerics/index.js';

/** The package types its module as if it were CommonJS; what is imported is the loader itself. */
const loadHighs = highsModule as unknown as (typeof highsModule)['default'];
const loading = loadHighs();

/** min |E x - d|_1 subject to G x <= h, over `unknowns` free unknowns. */
export async function optimumByHighs(
  terms: SparseRows,
  limits: SparseRows,
  unknowns: number,
): Promise<{ objective: number; x: Float64Array }> {
  const highs = await loading;
  const costs = Array.from(terms.right, (_, i) => `a${i}`);
  // a >= |E x - d|
  const rows = [
    ...Array.from(terms.right, (d, i) => `${sum(terms, i, 1)} - a${i} <= ${plain(d)}`),
    ...Array.from(terms.right, (d, i) => `${sum(terms, i, -1)} - a${i} <= ${plain(-d)}`),
    ...Array.from(limits.right, (h, i) => `${sum(limits, i, 1)} <= ${plain(h)}`),
  ];
  const free = Array.from({ length: unknowns }, (_, i) => `x${i} free`);
  const text = [
    'Minimize',
    costs.join(' + '),
    'Subject To',
    ...rows.map((row, i) => `r${i}: ${row}`),
    'Bounds',
    ...free,
    'End',
  ].join('\n');
  const solution = highs.solve(text, { presolve: 'off' });
  if (solution.Status !== 'Optimal') throw new Error(`HiGHS says ${solution.Status}`);
  const x = Float64Array.from({ length: unknowns }, (_, i) => solution.Columns[`x${i}`]?.Primal ?? 0);
  return { objective: solution.ObjectiveValue, x };
}

function sum(rows: SparseRows, row: number, sign: 1 | -1): string {
  const parts: string[] = [];
  for (let at = row * rows.perRow; at < (row + 1) * rows.perRow; at++) {
    const value = sign * rows.coefficients[at];
    if (value !== 0) parts.push(`${value < 0 ? '-' : '+'} ${plain(Math.abs(value))} x${rows.columns[at]}`);
  }
  return parts.join(' ');
}

const plain = (value: number): string => value.toPrecision(17);
