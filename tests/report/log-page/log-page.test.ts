import { describe, expect, it } from 'vitest';
import { byFloor } from '../../../src/report/log-page/by-floor.js';
import { madeUpList, madeUpLogPage } from '../support/made-up-log.js';

describe('the page of the log', () => {
  const page = madeUpLogPage();

  it('says the whole in one sentence', () => {
    expect(page).toContain(
      '15 runs on 4 floors: 9 good, 3 borderline, 2 not good enough. One clip could not be measured.',
    );
  });

  it('lists floors with the lowest crop first, runs without a floor last', () => {
    expect(byFloor(madeUpList()).map(({ floor }) => floor)).toEqual([
      'aluminium rail',
      'dairy hall, polished concrete',
      'tiled corridor',
      'plywood loft',
      null,
    ]);
  });

  it('counts verdicts, crop and classes of a floor', () => {
    const [rail, , , loft, unnamed] = byFloor(madeUpList());
    expect(rail.classes).toEqual(['A-5', 'A-5']);
    expect(loft.crop).toEqual({ middle: 5.5, low: 4.6, high: 7.8 });
    expect(loft.verdicts).toEqual({ pass: 0, marginal: 3, fail: 2, unmeasurable: 0 });
    expect(unnamed.crop).toBeNull();
  });

  it('orders classes by roughness, steps under A as the smoother ones', () => {
    const runs = madeUpList().map((run) => ({ ...run, pass: { floor: 'one' } }));
    expect(byFloor(runs)[0].classes).toEqual(['A-5', 'B']);
  });

  it('leads to the reports that are there, and names those that are gone', () => {
    expect(page).toContain('href="run-14/report.html"');
    expect(page).not.toContain('href="run-15/report.html"');
    expect(page).toContain('no report folder any more');
  });

  it('is a page without runs where none fits', () => {
    const empty = madeUpLogPage({ runs: [], filter: 'grade fail' });
    expect(empty).toContain('No run in the log fits.');
    expect(empty).toContain('only grade fail');
    expect(empty).not.toContain('<table');
  });

  it('runs nothing that a sheet holds', () => {
    const [first] = madeUpList();
    const hostile = '"><script>alert(1)</script>';
    const run = { ...first, clipFile: hostile, pass: { floor: hostile, setup: hostile, tags: [hostile] } };
    const shown = madeUpLogPage({
      runs: [{ run, reportHref: null, thumbnailUri: null }],
      filter: hostile,
      file: hostile,
    });
    expect(shown).not.toContain('<script>alert');
  });
});
