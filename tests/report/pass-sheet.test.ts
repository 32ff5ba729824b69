/** The sheet of the pass in the report: what the crew wrote stands there, the rest is told as not given. */
import { describe, expect, it } from 'vitest';
import { renderHtml } from '../../src/report/index.js';
import { madeUpBundle } from './support/made-up-bundle.js';

const text = (pass: Record<string, unknown>): string =>
  renderHtml(madeUpBundle((run) => Object.assign(run.pass, pass)))
    .replace(/<[^>]+>/g, ' ')
    .replace(/\s+/g, ' ');

describe('the sheet of a pass in the report', () => {
  it('shows what was written and names what was not', () => {
    const page = text({ floor: 'dairy hall', lane: '2', mark: 'noGood', tags: ['night', 'wet'] });
    expect(page).toContain('Floor or rail run dairy hall Lane 2 Mark no-good Tags night, wet');
    expect(page).toContain('Not given production, unit, location, direction, setup');
  });

  it('is safe from what is written on it', () => {
    const page = renderHtml(madeUpBundle((run) => Object.assign(run.pass, { notes: '<script>x</script>' })));
    expect(page).not.toContain('<script>x');
    expect(page).toContain('&lt;script&gt;');
  });
});
