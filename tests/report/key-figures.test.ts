import { describe, expect, it } from 'vitest';
import { asked, keyFigures } from '../../src/report/key-figures.js';
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
