/** Levels brought to another depth or range, against arithmetic by hand. */
import { describe, expect, it } from 'vitest';
import { applyLevels, levelTable } from '../../src/footage/levels.js';

const tv = (bitDepth: number) => ({ bitDepth, range: 'tv' as const });
const pc = (bitDepth: number) => ({ bitDepth, range: 'pc' as const });

describe('levels at another depth', () => {
  it('stay what they are where nothing changes', () => {
    expect(levelTable(tv(10), tv(10), 'luma')).toBeNull();
  });

  it('are a quarter of 12-bit levels in 10 bits, rounded to nearest and held within the scale', () => {
    const table = levelTable(tv(12), tv(10), 'chroma')!;
    expect([256, 257, 258, 2048, 4095].map((level) => table[level])).toEqual([64, 64, 65, 512, 1023]);
  });

  it('are four times 8-bit levels in 10 bits', () => {
    const table = levelTable(tv(8), tv(10), 'luma')!;
    expect([0, 16, 235, 255].map((level) => table[level])).toEqual([0, 64, 940, 1020]);
  });

  it('of full range keep white white', () => {
    expect(levelTable(pc(16), pc(10), 'luma')![65535]).toBe(1023);
    expect(levelTable(pc(16), pc(10), 'chroma')![32768]).toBe(512);
  });

  it('of full range go to black at 64, white at 940 and chroma of 896 levels in television range', () => {
    const luma = levelTable(pc(8), tv(10), 'luma')!;
    expect([luma[0], luma[255]]).toEqual([64, 940]);
    const chroma = levelTable(pc(8), tv(10), 'chroma')!;
    // 896 of 1024 levels stand for 255 of 256: the ends lie 128 and 127 steps of 896 / 255 from 512.
    expect([chroma[0], chroma[128], chroma[255]]).toEqual([62, 512, 958]);
  });

  it('beyond the depth count as its highest, and the samples given stay as they were', () => {
    const samples = Uint16Array.of(4095, 5000, 256);
    const copy = samples.slice();
    expect(applyLevels(samples, levelTable(tv(12), tv(10), 'luma')!, 2)).toEqual(
      Uint16Array.of(1023, 1023, 64),
    );
    expect(samples).toEqual(copy);
  });
});
