import { describe, expect, it } from 'vitest';
import { deliveryPixels } from '../../src/stabilise/index.js';
import { expectWithin } from '../support/expect-within.js';

const HD = { widthPx: 1920, heightPx: 1080 };
const UHD = { widthPx: 3840, heightPx: 2160 };
const ROUNDING = { rel: 1e-12, why: 'double rounding' };

describe('the pixels left for a delivery', () => {
  it('are 3850 of 4096 at a crop of 6 %', () => {
    const wide = { widthPx: 4096, heightPx: 2160 };
    const left = deliveryPixels(wide, wide, 1 / (1 - 0.06));
    expect(left).toMatchObject({
      holds: false,
      leftWidthPx: 3850,
      leftHeightPx: 2030,
      largestCropPercent: 0,
    });
    expectWithin(left.upscale, 1 / 0.94, ROUNDING);
  });

  it('fill a smaller delivery up to the crop that is named, and not beyond', () => {
    expect(deliveryPixels(UHD, HD, 1.25)).toMatchObject({
      holds: true,
      leftWidthPx: 3072,
      leftHeightPx: 1728,
      largestCropPercent: 50,
    });
    expect(deliveryPixels(UHD, HD, 2).holds).toBe(true);
    expect(deliveryPixels(UHD, HD, 2.001).holds).toBe(false);
    expectWithin(deliveryPixels(UHD, HD, 2.1).upscale, 1.05, ROUNDING);
  });

  it('are those of the largest window of the shape of the delivery', () => {
    const flat = { widthPx: 2048, heightPx: 858 };
    expect(deliveryPixels(UHD, flat, 1)).toMatchObject({ leftWidthPx: 3840, leftHeightPx: 1608 });
    const tall = { widthPx: 1080, heightPx: 1920 };
    expect(deliveryPixels(UHD, tall, 1)).toMatchObject({ leftWidthPx: 1215, leftHeightPx: 2160 });
  });

  it('never fill a delivery larger than the clip', () => {
    const left = deliveryPixels(HD, UHD, 1);
    expect(left).toMatchObject({ holds: false, upscale: 2, largestCropPercent: null });
  });

  it('are whole at no crop at all, whatever the rounding of the zoom', () => {
    const left = deliveryPixels(HD, HD, 1 + 1e-12);
    expect(left).toMatchObject({ holds: true, leftWidthPx: 1920, leftHeightPx: 1080 });
  });

  it('are refused for a zoom that shows more than the frame', () => {
    for (const zoom of [0.99, NaN, Infinity]) expect(() => deliveryPixels(HD, HD, zoom)).toThrow(RangeError);
  });
});
