import { describe, expect, it } from 'vitest';
import { surfaceClass } from '../../../src/surface/index.js';
import { expectWithin } from '../../support/expect-within.js';

describe('classes of roughness', () => {
  it.each([
    ['A-1', 4e-6],
    ['A-2', 1e-6],
    ['A-3', 2.5e-7],
    ['A-4', 6.25e-8],
    ['A-6', 3.90625e-9],
  ])('continues below A in steps of four: %s has the mean %d', (name, meanM3) => {
    const found = surfaceClass(meanM3);
    expect(found.name).toBe(name);
    expectWithin(found.meanM3, meanM3, { rel: 1e-12, why: 'powers of two' });
  });

  it('changes class at half and at twice the mean', () => {
    expect(surfaceClass(7.99e-6).name).toBe('A-1');
    expect(surfaceClass(8.01e-6).name).toBe('A');
    expect(surfaceClass(31.9e-6).name).toBe('A');
    expect(surfaceClass(32.1e-6).name).toBe('B');
  });

  it('has no class beyond H', () => {
    expect(surfaceClass(50).name).toBe('H');
    expect(surfaceClass(50).upperM3).toBeNull();
  });

  it('refuses a roughness that is not positive', () => {
    expect(() => surfaceClass(0)).toThrow(RangeError);
    expect(() => surfaceClass(NaN)).toThrow(/got NaN/);
  });
});
