import { describe, expect, it } from 'vitest';
import { terminalSummary } from '../../src/report/index.js';
import { madeUpRun } from './support/made-up-run.js';

const COLUMNS = 80;

describe('the summary in a window of 80 columns, without colour', () => {
  it.each(['metric', 'imperial'] as const)('reads as it was stored, in %s units', async (units) => {
    const text = terminalSummary({ ...madeUpRun(), units }, { colour: false, columns: COLUMNS });
    await expect(`${text}\n`).toMatchFileSnapshot(`stored/summary-${units}.txt`);
  });

  it('has no line wider than the window, and no escape byte', () => {
    const text = terminalSummary(madeUpRun(), { colour: false, columns: COLUMNS });
    for (const line of text.split('\n')) expect([...line].length, line).toBeLessThanOrEqual(COLUMNS);
    expect(text).not.toContain('\u001b');
  });

  it('counts a colour as no room, and breaks no number from its unit', () => {
    const [plain, coloured] = [false, true].map((colour) =>
      terminalSummary(madeUpRun(), { colour, columns: COLUMNS }),
    );
    expect(coloured.replaceAll(/\u001b\[[\d;]*m/g, '')).toBe(plain);
    for (const columns of [40, 60, 80])
      expect(terminalSummary(madeUpRun(), { colour: false, columns })).not.toMatch(
        /\d\n *(?:%|px|mm|m|deg|Hz)(?!\w)/,
      );
  });

  it('is one line a sentence where nobody watches', () => {
    expect(terminalSummary(madeUpRun(), { colour: false }).split('\n')[0]).toContain('shake left (limit');
  });
});
