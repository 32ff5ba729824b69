import { describe, expect, it } from 'vitest';
import { asked, keyFigures } from '../../src/report/key-figures.js';
import { shakeSection } from '../../src/report/html/shake.js';
import { floorRefusalTexts } from '../../src/texts/index.js';
import { madeUpBundle } from './support/made-up-bundle.js';

describe('a floor that is not graded, at a glance', () => {
  it('says what to give, and leaves the why to the section on the floor', () => {
    const { giveSpeed, giveWheelbase } = floorRefusalTexts;
    const { run } = madeUpBundle((changed) => {
      changed.surface.observable = false;
      changed.surface.reason = `${giveSpeed} ${giveWheelbase}`;
    });
    expect(keyFigures(run).at(-1)).toMatchObject({
      value: '–',
      remark: 'Give the speed or the travel of the pass. Give the wheelbase (to 5 mm).',
    });
  });

  it('keeps a sentence that asks for nothing whole', () => {
    expect(asked(floorRefusalTexts.nothingMeasured)).toBe(floorRefusalTexts.nothingMeasured);
  });
});

describe('the turning that is named as the worst', () => {
  it('is the one that shakes the picture most, not the one of the largest angle', () => {
    const { run } = madeUpBundle(({ motion: { angular } }) => {
      Object.assign(angular.tilt, { status: 'value', rmsDeg: 0.06, ci95Deg: null });
      Object.assign(angular.pan, { status: 'value', rmsDeg: 0.01, ci95Deg: null });
      Object.assign(angular.roll, { status: 'value', rmsDeg: 0.09, ci95Deg: null });
    });
    expect(keyFigures(run)[2]).toMatchObject({ name: 'Worst axis: tilt', value: '0.0600°' });
  });
});

describe('the angular share', () => {
  it('is told as its range alone where that is wide, on the first screen and in the section', () => {
    const wide = madeUpBundle(({ motion }) => (motion.angularShare = { value: 0.305, ci95: [0.073, 0.536] }));
    expect(keyFigures(wide.run)[1]).toMatchObject({ value: '7.3 to 53.6', unit: '%' });
    const section = shakeSection(wide).text;
    expect(section).toMatch(/7.to.54.%.of the shake is angular/);
    expect(section).not.toContain('<figure class="share">');
    expect(shakeSection(madeUpBundle()).text).toContain('<figure class="share">');
  });

  it('is not known where no turning stands above its noise', () => {
    const still = madeUpBundle(({ motion: { angular } }) => {
      for (const axis of ['pan', 'tilt', 'roll'] as const)
        Object.assign(angular[axis], { status: 'below', rmsDeg: null, ci95Deg: null, belowDeg: 0.001 });
    });
    expect(keyFigures(still.run)[1]).toMatchObject({
      value: '–',
      remark: 'not known: no angular shake above the noise floor',
    });
    expect(shakeSection(still).text).not.toMatch(/% of the shake is angular/);
  });
});
