/** Where plane samples lie over the picture, by construction on paper. */
import { describe, expect, it } from 'vitest';
import { outputFormat, planeFormatOf, type ClipFacts, type PlaneFormat } from '../../src/footage/index.js';
import { planarForm } from '../../src/footage/sample-layout.js';

const PLAIN_COLOUR = { primaries: null, transfer: null, matrix: null, range: null, chromaLocation: null };
const PLAIN = {
  ...{ pixelFormat: 'yuv420p', bitDepth: 8, storedWidthPx: 8, storedHeightPx: 6 },
  ...{ rotationDeg: 0, mirrored: false, pixelAspect: 1, colour: PLAIN_COLOUR },
} as unknown as ClipFacts;

function formatWith(facts: Partial<ClipFacts>, chromaLocation: string | null = null): PlaneFormat {
  return planeFormatOf({ ...PLAIN, ...facts, colour: { ...PLAIN_COLOUR, chromaLocation } });
}

describe('the planar layout of a pixel format', () => {
  it.each([
    ['yuv420p', 8, 'yuv420p', false],
    ['yuvj422p', 8, 'yuvj422p', false],
    ['yuv422p10le', 10, 'yuv422p10le', false],
    ['yuv444p12be', 12, 'yuv444p12le', true],
    ['yuva444p10le', 10, 'yuv444p10le', true],
    ['nv12', 8, 'yuv420p', true],
    ['p010le', 10, 'yuv420p10le', true],
    ['p216le', 16, 'yuv422p16le', true],
    ['uyvy422', 8, 'yuv422p', true],
    ['xv36le', 12, 'yuv444p12le', true],
    ['yuv411p', 8, 'yuv422p', true],
    ['yuv410p', 8, 'yuv420p', true],
    ['yuv440p', 8, 'yuv440p', false],
    ['gray', 8, 'gray', false],
    ['gray12le', 12, 'gray12le', false],
    ['gray14le', 14, 'gray16le', true],
    ['ya8', 8, 'gray', true],
    ['rgb24', 8, 'yuv444p10le', true],
    ['gbrp10le', 10, 'yuv444p12le', true],
    ['rgb48be', 16, 'yuv444p12le', true],
  ])('of %s with %i bits is %s', (pixelFormat, bitDepth, ffmpegFormat, isRepacked) => {
    expect(planarForm(pixelFormat, bitDepth)).toMatchObject({ ffmpegFormat, isRepacked });
  });
});

describe('places of samples', () => {
  it('puts chroma of 4:2:0 at the left of each pair, between its rows, unless the file says otherwise', () => {
    const { planes } = formatWith({});
    expect(planes[0]).toEqual({ widthPx: 8, heightPx: 6, stepX: 1, stepY: 1, offsetX: 0, offsetY: 0 });
    expect(planes[1]).toEqual({ widthPx: 4, heightPx: 3, stepX: 2, stepY: 2, offsetX: 0, offsetY: 0.5 });
    expect(formatWith({}, 'center').planes[2]).toMatchObject({ offsetX: 0.5, offsetY: 0.5 });
    expect(formatWith({}, 'topleft').planes[1]).toMatchObject({ offsetX: 0, offsetY: 0 });
    expect(formatWith({}, 'bottom').planes[1]).toMatchObject({ offsetX: 0.5, offsetY: 1 });
  });

  it('turns them with the picture', () => {
    // 8 x 6 stored: a chroma sample at stored (0, 0.5) stands at upright (5 - 0.5, 0) after a clockwise quarter.
    expect(formatWith({ rotationDeg: 90 })).toMatchObject({ widthPx: 6, heightPx: 8 });
    expect(formatWith({ rotationDeg: 90 }).planes[1]).toMatchObject({ widthPx: 3, offsetX: 0.5, offsetY: 0 });
    expect(formatWith({ rotationDeg: 270 }).planes[1]).toMatchObject({ offsetX: 0.5, offsetY: 1 });
    expect(formatWith({ rotationDeg: 180 }).planes[1]).toMatchObject({ offsetX: 1, offsetY: 0.5 });
    expect(formatWith({ mirrored: true }).planes[1]).toMatchObject({ offsetX: 1, offsetY: 0.5 });
    expect(formatWith({ mirrored: true, rotationDeg: 180 }).planes[1]).toMatchObject({ offsetX: 0 });
  });

  it('counts a last, half-filled pair of an odd side from the end when mirrored', () => {
    // Chroma columns of 7 luma columns stand at 0, 2, 4, 6: the same places from the other end.
    const { planes } = formatWith({ storedWidthPx: 7, mirrored: true });
    expect(planes[1]).toMatchObject({ widthPx: 4, offsetX: 0 });
  });

  it('halves the chroma rows of a 4:2:2 picture that is turned by a quarter', () => {
    const format = formatWith({ pixelFormat: 'yuv422p10le', bitDepth: 10, rotationDeg: 90 });
    expect(format).toMatchObject({ pixelFormat: 'yuv440p10le', chroma: '440', bytesPerSample: 2 });
    expect(format.planes[1]).toMatchObject({ widthPx: 6, heightPx: 4, stepX: 1, stepY: 2 });
  });

  it('turns the shape of pixels with the picture', () => {
    expect(formatWith({ pixelAspect: 4 / 3 }).pixelAspect).toBe(4 / 3);
    expect(formatWith({ pixelAspect: 4 / 3, rotationDeg: 270 }).pixelAspect).toBe(3 / 4);
  });

  it('takes levels for those of television where the file does not say, for full where grey stands alone', () => {
    expect(formatWith({}).colour.range).toBe('tv');
    expect(formatWith({ pixelFormat: 'gray' }).colour.range).toBe('pc');
    expect(formatWith({ pixelFormat: 'rgb24' }).colour).toMatchObject({ matrix: 'bt709', range: 'tv' });
  });
});

describe('the format for writing', () => {
  it('keeps for H.264 what there is, at another size, down to even sides where chroma asks for it', () => {
    const format = outputFormat(formatWith({}, 'topleft'), 'h264', 15, 9);
    expect(format).toMatchObject({ pixelFormat: 'yuv420p', widthPx: 14, heightPx: 8 });
    expect(format.planes[1]).toMatchObject({ widthPx: 7, heightPx: 4, offsetX: 0, offsetY: 0 });
    const dense = outputFormat(formatWith({ pixelFormat: 'yuv444p' }), 'h264', 15, 9);
    expect(dense).toMatchObject({ pixelFormat: 'yuv444p', widthPx: 15, heightPx: 9 });
  });

  it('asks for the chroma rows that ProRes has, and for all chroma where only rows were halved', () => {
    expect(outputFormat(formatWith({}), 'prores', 8, 5).pixelFormat).toBe('yuv422p');
    expect(outputFormat(formatWith({}), 'prores', 8, 5).heightPx).toBe(5);
    const turned = formatWith({ pixelFormat: 'yuv422p', rotationDeg: 90 });
    expect(outputFormat(turned, 'h264', 6, 8).pixelFormat).toBe('yuv444p');
  });

  it('puts chroma back to the left where no written file can say where it is', () => {
    const mirrored = outputFormat(formatWith({ mirrored: true }), 'h264', 8, 6);
    expect(mirrored.planes[1]).toMatchObject({ offsetX: 0, offsetY: 0.5 });
    const centred = outputFormat(formatWith({}, 'center'), 'h264', 8, 6);
    expect(centred.planes[1]).toMatchObject({ offsetX: 0.5, offsetY: 0.5 });
  });

  it('refuses a size that leaves nothing', () => {
    expect(() => outputFormat(formatWith({}), 'h264', 1, 6)).toThrow(RangeError);
    expect(() => outputFormat(formatWith({}), 'h264', 8.5, 6)).toThrow('got 8.5 x 6');
  });
});
