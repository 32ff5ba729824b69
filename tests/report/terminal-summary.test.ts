import { describe, expect, it } from 'vitest';
import { terminalSummary } from '../../src/report/index.js';
import { boundUp, scientific, withRange } from '../../src/report/format.js';
import { madeUpRun } from './support/made-up-run.js';
import { setCrop } from './support/made-up-stabilise.js';

describe('the terminal summary', () => {
  const text = terminalSummary(madeUpRun(), { colour: false });

  it('holds verdict, measured value and limit in its first line', () => {
    expect(text.split('\n')[0]).toBe(
      'PASS  Good for this move with a 35 mm lens at 0.25 m/s, for 1920x1080: crop 3.1 % of the width (limit 5 %), 0.4 px of shake left (limit 0.83 px).',
    );
  });

  it('says below the headline what keeps from pass, and nothing where nothing does', () => {
    const marginal = terminalSummary(
      madeUpRun((run) => setCrop(run.stabilise, 4.4)),
      { colour: false },
    ).split('\n');
    expect(marginal[1]).toMatch(/^Why: {2}Stabilising this pass fits with little to spare: 4\.4 %/);
    expect(marginal.filter((line) => line.startsWith('Why:'))).toHaveLength(1);
    expect(text).not.toMatch(/^Why:/m);
  });

  it('minds below a pass that a longer take may need more than is allowed', () => {
    expect(text.split('\n')[1]).toBe(
      'Mind: A 60 s take on a floor like this may need up to 5.9 % (19 in 20 stay below); 5 % is allowed.',
    );
    const short = madeUpRun((run) => (run.stabilise.longerTake[1].upper95Percent = 4.9));
    expect(terminalSummary(short, { colour: false })).not.toMatch(/^Mind:/m);
  });

  it('lists six axes; one under its noise floor only as "below"', () => {
    for (const name of ['Pan', 'Tilt', 'Roll', 'Lateral', 'Vertical', 'Axial'])
      expect(text).toMatch(new RegExp(`^${name} `, 'm'));
    expect(text).toMatch(/^Lateral +below 0\.0\d+ mm/m);
  });

  it('says what to do first, and counts warnings and assumptions', () => {
    expect(text).toMatch(/^Do first: /m);
    expect(text).toContain('Warnings: 1');
    expect(text).toContain(
      'Taken, not given: lens distortion: none; rolling shutter: 0 ms; shutter angle: 180 deg (',
    );
  });

  it('tells alternatives with what they would come to, and further steps with what they bring where it fits', () => {
    const run = madeUpRun();
    const step = {
      code: 'x',
      text: 'Shim the joint.',
      effect: 'It helps 1.5 px. It is cheap.',
      predicted: null,
    };
    run.verdict.grade = 'fail';
    run.verdict.advice = [
      step,
      {
        ...step,
        predicted: {
          cropPercent: { value: 1.9, low: 1.6, high: 2.4 },
          coverable: true,
          residualPx: { value: 0.7, low: 0.5, high: 0.8 },
          grade: 'pass',
        },
      },
      step,
      { ...step, effect: 'x'.repeat(200) },
    ];
    const lines = terminalSummary(run, { colour: false }).split('\n');

    const from = lines.findIndex((line) => line.startsWith('Do first:'));
    expect(lines.slice(from, from + 4)).toEqual([
      'Do first: Shim the joint. It helps 1.5 px. It is cheap.',
      'Or:       Shim the joint. (crop 1.9 %, 0.7 px left: passes)',
      'Also:     Shim the joint. It helps 1.5 px.',
      'Also:     Shim the joint.',
    ]);
    // A pass has no need of an alternative: what is said beside it comes in addition.
    run.verdict.grade = 'pass';
    expect(terminalSummary(run, { colour: false })).not.toMatch(/^Or:/m);
  });

  it('has escape bytes only when colour is asked for', () => {
    expect(text).not.toContain('\u001b');
    const coloured = terminalSummary(madeUpRun(), { colour: true });

    expect(coloured.replace(/\u001b\[[\d;]*m/g, '')).toBe(text);
    expect(coloured).not.toBe(text);
  });

  it('lets no file name or warning steer the terminal', () => {
    const run = madeUpRun((draft) => {
      draft.clip.file = 'a\u001b[2Jb.mp4';
      draft.warnings.push({ code: 'x', text: 'beep\u0007\r\nbye', atS: 1 });
    });

    expect(terminalSummary(run, { colour: false })).not.toMatch(/[\u0000-\u0009\u000b-\u001f]/);
  });

  it('shows no figures of a clip that cannot be measured', () => {
    const run = madeUpRun((draft) => (draft.tracking.featuresMedian = 3));
    const summary = terminalSummary(run, { colour: false });
    expect(summary).toMatch(/^UNMEASURABLE {2}This clip cannot tell\. /);
    expect(summary).not.toContain('Tilt');
  });

  it('uses no word of the trade of statistics in its first line', () => {
    for (const word of ['PSD', 'RMSE', 'homography', 'eigenvalue', '!'])
      expect(text.split('\n')[0]).not.toContain(word);
  });
});

describe('figures', () => {
  it('have the digits that their range allows', () => {
    expect(withRange(0.033871, [0.0331, 0.0347])).toEqual({ value: '0.0339', range: '0.0331 to 0.0347' });
    expect(withRange(12.3456, [8, 17])).toEqual({ value: '12.3', range: '8.0 to 17.0' });
    expect(withRange(0.5, null)).toEqual({ value: '0.500', range: '' });
  });

  it('round bounds up, so that the printed bound still holds', () => {
    expect(boundUp(0.0611)).toBe('0.062');
    expect(boundUp(0.06)).toBe('0.060');
    for (const bound of [0.00123, 0.0999, 4.21, 87.3])
      expect(Number(boundUp(bound))).toBeGreaterThanOrEqual(bound);
  });

  it('write powers of ten as people do', () => {
    expect(scientific(9.2e-7)).toBe('9.2 × 10⁻⁷');
  });
});
