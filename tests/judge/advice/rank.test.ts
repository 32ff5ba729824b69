import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { worstOf } from '../../../src/judge/advice/present.js';
import { ABOUT_THE_SAME, ranked } from '../../../src/judge/advice/rank.js';
import { EFFORTS, type ForetoldStep } from '../../../src/judge/advice/step.js';
import { evenly } from '../../support/evenly.js';

const settings = (steps: readonly ForetoldStep[]): string[] => steps.map(({ code }) => code);

describe('the ranking', () => {
  const limits = { limits: { cropPercent: 5, cropAtMostPercent: 5, residualPx: 1 } };
  const grades = ['pass', 'marginal', 'fail'] as const;
  const step = fc.record({
    grade: fc.constantFrom(...grades),
    effort: fc.constantFrom(...EFFORTS),
    crop: evenly(0.1, 20),
    left: evenly(0.01, 4),
  });
  const made = fc.array(step, { maxLength: 9 }).map((all) =>
    all.map(({ grade, effort, crop, left }, i): ForetoldStep => ({
      code: String(i),
      text: '',
      effect: '',
      effort,
      predicted: {
        cropPercent: { value: crop, low: crop, high: 1.1 * crop },
        coverable: true,
        residualPx: { value: left, low: left, high: left },
        grade,
      },
    })),
  );
  const worst = ({ predicted }: ForetoldStep): number => worstOf(predicted, limits);
  const rank = ({ predicted }: ForetoldStep): number => grades.indexOf(predicted.grade);

  it('keeps every step, never a worse grade before a better, and none before one that does a tenth more', () => {
    fc.assert(
      fc.property(made, (steps) => {
        const order = ranked(steps, limits);
        expect(order.map(({ code }) => code).sort()).toEqual(steps.map(({ code }) => code).sort());
        for (let i = 0; i < order.length; i++)
          for (let j = i + 1; j < order.length; j++) {
            expect(rank(order[i])).toBeLessThanOrEqual(rank(order[j]));
            if (rank(order[i]) === rank(order[j]))
              expect(worst(order[i])).toBeLessThanOrEqual((1 + ABOUT_THE_SAME) * worst(order[j]) + 1e-12);
          }
      }),
      { seed: 3, numRuns: 200 },
    );
  });

  it('puts the cheaper of two that do about the same first', () => {
    const two = (['boards', 'post'] as const).map((effort, i): ForetoldStep => ({
      code: effort,
      text: '',
      effect: '',
      effort,
      predicted: {
        cropPercent: { value: 2 + 0.1 * i, low: 2, high: 2.2 },
        coverable: true,
        residualPx: null,
        grade: 'pass',
      },
    }));
    expect(settings(ranked(two, limits))).toEqual(['post', 'boards']);
  });
});
