/** The advice is followed, the pass simulated anew, and what then shakes held against what was foretold. */
import { describe, expect, it } from 'vitest';
import { figuresOf, type MeasuredPass, type WayFigures } from '../../../src/judge/index.js';
import { presentOf } from '../../../src/judge/advice/present.js';
import { lensSteps } from '../../../src/judge/advice/lens.js';
import { shimSteps } from '../../../src/judge/advice/shim.js';
import { speedSteps } from '../../../src/judge/advice/speed.js';
import type { ForetoldStep } from '../../../src/judge/advice/step.js';
import { expectWithin } from '../../support/expect-within.js';
import { rolledMotion, rolledPass, type RolledPass } from './support/rolled-pass.js';

/**
 * A crop is set by one frame of the run, and at another speed other frames meet the bumps. Ten trials with other seeds: crop 0.78 to
 * 1.24 times what was foretold, shake left 0.96 to 1.12 times.
 */
const CROP_SHARE = 0.25;
const LEFT_SHARE = 0.15;

const FLOOR: RolledPass = { seed: 4, gdM3: 8e-6, focalFactor: 3, delivery: { maxCropPercent: 0.8 } };
const BUMPS = [
  { atM: 0.7, heightM: 1.2e-3, lengthM: 0.06 },
  { atM: 1.45, heightM: 1e-3, lengthM: 0.06 },
  { atM: 2.2, heightM: 3e-4, lengthM: 0.06 },
];
const LAID: RolledPass = { ...FLOOR, gdM3: 1e-6, speedMps: 0.3, bumps: BUMPS };

function stepOf(steps: ReturnType<typeof speedSteps>): ForetoldStep {
  if ('refused' in steps) throw new Error(steps.refused);
  return steps[0];
}

/** @returns the figures of the pass that was simulated anew */
function expectAsForetold({ predicted }: ForetoldStep, before: MeasuredPass, anew: RolledPass): WayFigures {
  const figures = figuresOf(before, rolledMotion(anew));
  const { cropPercent, residualPx } = predicted;
  const crop = figures.cropPercent / cropPercent.value;
  expectWithin(crop, 1, { abs: CROP_SHARE }, 'crop over what was foretold');
  expectWithin(
    (figures.residualPx ?? 0) / (residualPx?.value ?? 0),
    1,
    { abs: LEFT_SHARE },
    'shake left over what was foretold',
  );
  return figures;
}

describe('a crew that follows the advice', () => {
  it('finds the crop and the shake of the speed that it was told', () => {
    const before = rolledPass(FLOOR);
    const present = presentOf(before);
    const step = stepOf(speedSteps(present));
    const speedMps = Number(/^At ([\d.]+) m\/s:/.exec(step.effect)?.[1]);
    const figures = expectAsForetold(step, before, { ...FLOOR, speedMps });
    expect(figures.cropPercent).toBeLessThan(present.now.cropPercent.value);
  });

  it('passes with the lens that it was told', () => {
    const before = rolledPass(FLOOR);
    const step = lensSteps(presentOf(before))[0];
    const takenMm = Number(/^With an? ([\d.]+) mm lens:/.exec(step.effect)?.[1]);
    const figures = expectAsForetold(step, before, { ...FLOOR, focalFactor: takenMm / 35 });
    expect(step.predicted.grade).toBe('pass');
    expect(figures.cropPercent).toBeLessThan(0.8);
  });

  it('finds the crop and the shake of the floor without the bumps that it was told', () => {
    const before = rolledPass(LAID);
    const step = stepOf(shimSteps(presentOf(before)));
    const left = BUMPS.filter(({ atM }) => !step.text.includes(`${atM.toFixed(3)} m`));
    expect(left).toEqual([BUMPS[2]]);
    const figures = expectAsForetold(step, before, { ...LAID, bumps: left });
    expect(figures.cropPercent).toBeLessThan(0.6 * figuresOf(before, before.motion).cropPercent);
  });
});
