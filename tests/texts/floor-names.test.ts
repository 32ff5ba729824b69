import { describe, expect, it } from 'vitest';
import { worstHeightMm, type SurfaceBump } from '../../src/run/index.js';
import { bumpInWords, classInWords, placeInWords } from '../../src/texts/index.js';
import { madeUpSurface } from '../report/support/made-up-surface.js';

const STEP: SurfaceBump = {
  atM: 1.83,
  atRangeM: 0.004,
  atS: 7.3,
  axlesS: [7.3],
  heightMm: 0.6,
  heightRangeMm: 0.1,
  leftMm: 1.2,
  rightMm: 0,
  sideRangeMm: 0.2,
  lengthM: 0,
  kind: 'step',
  wheelLine: 'left',
  pictureShiftPx: 3,
  confidence: 0.99,
  foundBy: 'itself',
};

describe('a bump in the words of a grip', () => {
  it.each<[string, Partial<SurfaceBump>]>([
    ['step of 1.2 mm up, left wheel line', {}],
    [
      'joint of 0.9 mm down, both wheel lines',
      { kind: 'joint', wheelLine: 'both', heightMm: -0.8, leftMm: -0.9, rightMm: -0.7 },
    ],
    [
      'joint, left 0.4 mm up, right 2.8 mm down',
      { kind: 'joint', wheelLine: 'both', heightMm: -1.2, leftMm: 0.4, rightMm: -2.8 },
    ],
    [
      'joint, left between 0.9 mm down and 1.5 mm up, right 2.9 mm down',
      {
        ...{ kind: 'joint', wheelLine: 'both', heightMm: -1.3 },
        ...{ leftMm: 0.3, rightMm: -2.9, sideRangeMm: 1.2 },
      },
    ],
    // Measured before ranges were told.
    [
      'joint, left 0.3 mm up, right 2.9 mm down',
      {
        ...{ kind: 'joint', wheelLine: 'both', heightMm: -1.3 },
        ...{ leftMm: 0.3, rightMm: -2.9, sideRangeMm: null },
      },
    ],
    ['step of 0.6 mm up, wheel line not known', { wheelLine: 'unknown', leftMm: null, rightMm: null }],
    [
      'bump of 0.6 mm, 40 mm long, wheel line not known',
      { kind: 'bump', lengthM: 0.04, wheelLine: 'unknown', leftMm: null, rightMm: null },
    ],
    [
      'dip of 0.3 mm as this wheel sees it, 6 mm long, right wheel line',
      { kind: 'dip', lengthM: 0.006, wheelLine: 'right', heightMm: -0.15, leftMm: 0, rightMm: -0.3 },
    ],
  ])('%s', (words, change) => {
    expect(bumpInWords({ ...STEP, ...change })).toBe(words);
  });

  it('is as high as under the wheel line that meets it', () => {
    expect(worstHeightMm(STEP)).toBe(1.2);
    expect(worstHeightMm({ ...STEP, leftMm: null, rightMm: null, heightMm: -0.6 })).toBe(0.6);
  });

  it('has its place to the centimetre, to the millimetre where it is known that well', () => {
    expect(placeInWords(1.8312, 0.012)).toBe('1.83 m');
    expect(placeInWords(1.8312, 0.004)).toBe('1.831 m');
  });
});

describe('the class of a surface in words', () => {
  it('says what it holds for, and the class as rolled where joints make it another', () => {
    expect(classInWords(madeUpSurface())).toBe('A-2 (A-2 to A-1) between joints and bumps, A-1 as rolled');
    expect(classInWords({ ...madeUpSurface(), bumps: [], isoClassAsRolled: 'A-2' })).toBe('A-2 (A-2 to A-1)');
    expect(classInWords({ ...madeUpSurface(), isoClass: null })).toBeNull();
  });
});
