import { describe, expect, it } from 'vitest';
import { inUnits } from '../../src/run/index.js';

/** Exact by the international yard and pound agreement of 1959: 1 ft = 0.3048 m, 1 in = 25.4 mm. */
describe('quantities in other units', () => {
  it.each([
    ['at 0.3048 m', 'at 1 ft'],
    ['at 3.20 m', 'at 10 ft 6 in'],
    ['at 0.71 m', 'at 2 ft 4 in'],
    ['wheelbase 0.45 m', 'wheelbase 1 ft 5.7 in'],
    ['wheels of 0.08 m', 'wheels of 3.15 in'],
    ['joints every 0.3 m', 'joints every 11.8 in'],
    ['−0.94 to −0.027 mm', '−0.037 to −0.0011 in'],
    ['+2.2 mm', '+0.087 in'],
    ['every 0.300 m', 'every 11.8 in'],
    ['a step of 25.4 mm', 'a step of 1 in'],
    ['a joint of 2.9 mm down', 'a joint of 0.11 in down'],
    ['0.2 to 0.4 mm RMS', '0.008 to 0.02 in RMS'],
    ['1.0 to 1.9 m of lane 1', '3 ft 3 in to 6 ft 3 in of lane 1'],
    ['at 0.3048 m/s', 'at 1 ft/s'],
    ['-0.5 mm', '-0.02 in'],
  ])('"%s" reads "%s"', (metric, imperial) => {
    expect(inUnits(metric, 'imperial')).toBe(imperial);
  });

  it('shows both side by side when asked, and leaves a sentence that holds both as it is', () => {
    const both = inUnits('joint of 2.9 mm at 0.71 m', 'both');
    expect(both).toBe('joint of 2.9 mm (0.11 in) at 0.71 m (2 ft 4 in)');
    expect(inUnits(both, 'both')).toBe(both);
    expect(inUnits('−0.016 to 12.1 mm', 'both')).toBe('−0.016 to 12.1 mm (−0.0006 to 0.476 in)');
  });

  it.each([
    'Use a lens of 18 mm.',
    'With a 28 mm lens: crop falls.',
    'lenses up to 50 mm keep the limits',
    'a 24 mm wide sensor',
    '9.2 × 10⁻⁷ m³ at 0.1 cycle/m',
    '35\u202fmm',
    '12 m/s² of jerk',
    '4 px and 5 %',
  ])('leaves "%s" as it is: the trade has no other unit for it', (text) => {
    expect(inUnits(text, 'imperial')).toBe(text);
  });

  it('changes nothing in metric units', () => {
    const text = 'joint of 2.9 mm at 0.71 m, 0.3 m/s';
    expect(inUnits(text, 'metric')).toBe(text);
  });
});
