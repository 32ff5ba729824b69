/** Addresses of the page and the views that stand there. */
import { describe, expect, it } from 'vitest';
import { comparisonPath, idsOf, lanePlanPath, routeOf, runPath } from '../../../src/web/page/routes.js';

const at = (address: string) => {
  const { pathname, searchParams } = new URL(address, 'http://127.0.0.1');
  return routeOf(pathname, searchParams);
};

describe('an address of the page', () => {
  it.each([
    ['/', { view: 'start', missed: false }],
    ['/work', { view: 'work' }],
    ['/work/', { view: 'work' }],
    ['/log?floor=dairy+hall', { view: 'log' }],
    ['/runs/12', { view: 'run', id: 12 }],
    ['/compare?runs=1,2&by=lane', { view: 'comparison', runs: [1, 2], by: 'lane', plan: false }],
    ['/compare?runs=3,4', { view: 'comparison', runs: [3, 4], by: null, plan: false }],
    ['/compare', { view: 'comparison', runs: [], by: null, plan: false }],
  ])('%s leads to its view', (address, route) => {
    expect(at(address)).toEqual(route);
  });

  it.each(['/nowhere', '/runs', '/runs/0', '/runs/012', '/runs/1e3', '/runs/-1', '/runs/1/2', '/log/3'])(
    '%s is none, and the start says so',
    (address) => {
      expect(at(address)).toEqual({ view: 'start', missed: true });
    },
  );

  it('is what the view is found by again', () => {
    expect(at(runPath(7))).toEqual({ view: 'run', id: 7 });
    const runs = [9, 2];
    const view = 'comparison';
    expect(at(comparisonPath(runs, 'lane'))).toEqual({ view, runs, by: 'lane', plan: false });
    expect(at(comparisonPath(runs))).toEqual({ view, runs, by: null, plan: false });
    expect(at(lanePlanPath(runs))).toEqual({ view, runs, by: 'lane', plan: true });
  });
});

describe('numbers of runs in an address', () => {
  it('keep their order, each once, and what is no number is passed over', () => {
    expect(idsOf('12,3,12,x,,0,-4,5.5, 7')).toEqual([12, 3]);
    expect(idsOf(null)).toEqual([]);
  });
});
