/** Runs of the log against each other: parts for the page, the page that stands alone, and what cannot be compared. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { LogEntry } from '../../../src/log/index.js';
import type { ComparisonParts, Problem } from '../../../src/web/api.js';
import { madeUpRunOf, type MadeUpPass } from '../../support/made-up-runs.js';
import { servedRuns, type ServedRuns } from './support/served-runs.js';

let served: ServedRuns;
const parts = async (query: string): Promise<ComparisonParts> =>
  (await (await served.ask(`/comparison?${query}`)).json()) as ComparisonParts;

/** A short pass over the tiled corridor. */
function pass(options: MadeUpPass): LogEntry {
  const kept = madeUpRunOf({ durationS: 5, floor: 'tiled corridor', ...options });
  return { ...kept, reportFolder: null, picture: null, thumbnail: null };
}

beforeAll(() => {
  served = servedRuns();
  served.keep(
    pass({ setup: 'soft <b>tyres</b>', lane: '1', passSeed: 1 }),
    pass({ setup: 'hard tyres', lane: '1', passSeed: 2, factor: 2 }),
    pass({ setup: 'hard tyres', lane: '2', passSeed: 3, factor: 2 }),
    { ...pass({ setup: 'hard tyres', lane: '3' }), series: null },
  );
});
afterAll(() => served.end());

describe('a comparison', () => {
  it('comes as parts that hold nothing that runs, by what was asked', async () => {
    const { title, body, by, units } = await parts('runs=1,2&by=setup');
    expect([by, units]).toEqual(['setup', 'metric']);
    expect(title).toContain('soft <b>tyres</b>');
    expect(body).toContain('id="answer"');
    expect(body).toContain('soft &lt;b&gt;tyres&lt;/b&gt;');
    expect(body).not.toContain('<b>tyres');
    expect(body.match(/<(?:script(?! type="application\/json")|style)\b|<[^>]*\son\w+=/g)).toBeNull();
    expect(body).toContain('log:2');
  });

  it('has the plan of the lanes where lanes are compared', async () => {
    const { body, by } = await parts('runs=2,3&by=lane&units=imperial');
    expect(by).toBe('lane');
    expect(body).toContain('<figure class="lanes">');
    expect(body).toMatch(/\d(?:\s| )?ft/);
  });

  it('is a page that stands alone, too', async () => {
    const page = await served.ask('/comparison/page?runs=1,2');
    expect(page.headers.get('Content-Disposition')).toBe('attachment; filename="compare-runs-1-2.html"');
    expect(page.headers.get('Content-Type')).toMatch(/^text\/html/);
    const text = await page.text();
    expect(text).toMatch(/^<!doctype html>/);
    expect(text).toContain('Content-Security-Policy');
  });

  it.each([
    ['', 400, 'two runs or more'],
    ['runs=1', 400, 'two runs or more'],
    ['runs=1,1', 400, 'two runs or more'],
    ['runs=1,two', 400, '"two" is not the number of a run'],
    [`runs=${Array.from({ length: 70 }, (_, i) => i + 1).join()}`, 400, 'at most 60 runs'],
    ['runs=1,2&by=colour', 400, 'the nearest is'],
    ['runs=1,2&units=leagues', 400, 'units must be one of'],
    ['runs=1,77,99', 404, 'There is no run 77 or 99 in the log'],
    ['runs=2,3&by=setup', 422, 'the same setup (hard tyres)'],
    ['runs=1,4', 422, 'without its series'],
  ])('says why not: %s', async (query, status, detail) => {
    const told = (await (await served.ask(`/comparison?${query}`)).json()) as Problem;
    expect(told.status).toBe(status);
    expect(told.detail).toContain(detail);
  });
});
