/** The advice is followed, the pass simulated anew, and what then shakes held against what was foretold. */
import { describe, expect, it } from 'vitest';
import { figuresOf, type MeasuredPass } from '../../../src/judge/index.js';
import { presentOf } from '../../../src/judge/advice/present.js';
import { lensSteps } from '../../../src/judge/advice/lens.js';
import { shimSteps } from '../../../src/judge/advice/shim.js';
import { speedSteps } from '../../../src/judge/advice/speed.js';
import type { ForetoldStep } from '../../../src/judge/advice/step.js';
import { rolledPass, type RolledPass } from './support/rolled-pass.js';

/** A crop is set by one frame of the run, and speeds and joints fall on other frames: own trials, one seed in twenty lies beyond. */
const CROP_SHARE = 0.25;

const FLOOR: RolledPass = { seed: 4, gdM3: 8e-6, focalFactor: 3, delivery: { maxCropPercent: 0.8 } };
const TILES: RolledPass = {
  ...FLOOR,
  gdM3: 1e-6,
  speedMps: 0.3,
  joints: { spacingM: 0.7, lippageM: 5e-4, gapWidthM: 0.004, gapDepthM: 0.001 },
};

function stepOf(steps: ReturnType<typeof speedSteps>): ForetoldStep {
  if ('refused' in steps) throw new Error(steps.refused);
  return steps[0];
}

function expectAsForetold({ predicted }: ForetoldStep, anew: MeasuredPass): void {
  const { cropPercent, residualPx } = figuresOf(anew, anew.motion);
  expect(cropPercent).toBeGreaterThan((1 - CROP_SHARE) * predicted.cropPercent.low);
  expect(cropPercent).toBeLessThan((1 + CROP_SHARE) * predicted.cropPercent.high);
  expect(residualPx).toBeLessThan((1 + CROP_SHARE) * (predicted.residualPx?.high ?? 0));
}

describe('a crew that follows the advice', () => {
  it('finds the crop of the speed that it was told', () => {
    const before = rolledPass(FLOOR);
    const step = stepOf(speedSteps(presentOf(before)));
    const speedMps = Number(/^At ([\d.]+) m\/s:/.exec(step.effect)?.[1]);
    const anew = rolledPass({ ...FLOOR, speedMps });
    expectAsForetold(step, anew);
    expect(figuresOf(anew, anew.motion).cropPercent).toBeLessThan(
      figuresOf(before, before.motion).cropPercent,
    );
  });

  it('finds the crop of the lens that it was told', () => {
    const step = lensSteps(presentOf(rolledPass(FLOOR)))[0];
    const takenMm = Number(/^At ([\d.]+) mm:/.exec(step.effect)?.[1]);
    const anew = rolledPass({ ...FLOOR, focalFactor: takenMm / 35 });
    expectAsForetold(step, anew);
    expect(figuresOf(anew, anew.motion).cropPercent).toBeLessThan(0.8);
  });

  it('finds the crop of the floor whose joints were shimmed', () => {
    const step = stepOf(shimSteps(presentOf(rolledPass(TILES))));
    const { joints, ...shimmed } = TILES;
    expect(joints).toBeDefined();
    expectAsForetold(step, rolledPass(shimmed));
  });
});
