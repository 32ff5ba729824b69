/** Paths of a comparison of runs of the log: its parts for the page, and the page that stands alone. */
import { Hono, type Context } from 'hono';
import { parseCompareBy } from '../../compare-grouping.js';
import { compareRuns } from '../../compare.js';
import { comparisonParts, renderComparison } from '../../report/index.js';
import { UNITS, type Comparison, type Units } from '../../run/index.js';
import type { ComparisonParts } from '../api.js';
import { WebProblem } from '../server/problem.js';
import { disposition } from './attachment.js';
import { asInvalid, runIds } from './requests.js';
import type { Runs } from './runs.js';

/** More would be neither quick to compare nor read by anybody. */
const MOST_COMPARED = 60;
/** Numbers that the name of a file holds. */
const NAMED_RUNS = 8;

interface Compared {
  readonly comparison: Comparison;
  readonly ids: readonly number[];
  readonly units: Units;
}

/** The routes below /comparison. Lengths are in the units of the first run, or in those that `units` names. */
export function comparisonRoutes(runs: Runs): Hono {
  const app = new Hono();
  app.get('/comparison', async (context) => {
    const { comparison, units } = await compared(runs, context);
    const parts: ComparisonParts = { ...comparisonParts(comparison, { units }), units, by: comparison.by };
    return context.json(parts);
  });
  app.get('/comparison/page', async (context) => {
    const { comparison, ids, units } = await compared(runs, context);
    const name = `compare-runs-${ids.slice(0, NAMED_RUNS).join('-')}${ids.length > NAMED_RUNS ? '-and-more' : ''}.html`;
    return context.html(renderComparison(comparison, { units }), 200, {
      'Content-Disposition': disposition('attachment', name),
    });
  });
  return app;
}

/** @throws WebProblem 400 for what cannot be asked, 404 for runs that are not there; TrundleError for runs that cannot be compared */
async function compared(runs: Runs, context: Context): Promise<Compared> {
  const ids = runIds(context.req.query('runs') ?? '');
  if (ids.length < 2)
    throw new WebProblem(400, 'argument-invalid', 'A comparison needs two runs or more; choose another.');
  if (ids.length > MOST_COMPARED)
    throw new WebProblem(
      400,
      'argument-invalid',
      `A comparison takes at most ${MOST_COMPARED} runs; choose fewer.`,
    );
  const word = context.req.query('by') ?? '';
  const by = word === '' ? null : asInvalid(() => parseCompareBy(word));
  const units = unitsOf(context.req.query('units'));
  runs.rows(ids);
  const comparison = await compareRuns({ places: [`log:${ids.join(',')}`], by, dataDir: runs.dataDir });
  return { comparison, ids, units: units ?? runs.get(ids[0]).run.units };
}

function unitsOf(word: string | undefined): Units | null {
  if (word === undefined || word === '') return null;
  const units = UNITS.find((name) => name === word);
  if (units !== undefined) return units;
  throw new WebProblem(400, 'argument-invalid', `The units must be one of ${UNITS.join(', ')}.`);
}
