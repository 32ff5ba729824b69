/** Single facts, from statements of containers that this machine's FFmpeg does not write. */
import { describe, expect, it } from 'vitest';
import { asksForLater, frameRate } from '../../src/footage/frame-rate.js';
import {
  bitDepth,
  colourTags,
  durationOf,
  soundStreams,
  timecodeOf,
  uprightTurn,
  videoStream,
} from '../../src/footage/stream-facts.js';
import { expectWithin } from '../support/expect-within.js';

/** Time stamps at a rate, in milliseconds as Matroska rounds them. */
function stampsS(count: number, fps: number): number[] {
  return Array.from({ length: count }, (_, n) => Math.round((1000 * n) / fps) / 1000);
}

describe('the frame rate', () => {
  const tickS = 0.001;

  it('takes no single hole for a variable rate', () => {
    const timeS = stampsS(200, 25).filter((_, n) => n !== 70);
    expect(frameRate(timeS, { base: '25/1', average: '199/8', tickS })).toEqual({
      ...{ fps: 25, fpsFraction: '25/1', variableRate: false },
    });
  });

  it('takes many holes for a variable rate, at the mean rate', () => {
    const timeS = stampsS(200, 30).filter((_, n) => n % 7 !== 3);
    const rate = frameRate(timeS, { base: '30/1', average: undefined, tickS });
    expect(rate.variableRate).toBe(true);
    expectWithin(rate.fps, (30 * 6) / 7, { rel: 0.01, why: 'holes at the ends of the count' }, 'mean rate');
  });

  it('believes an average far from what the first seconds show: the rate changes later', () => {
    const rate = frameRate(stampsS(500, 30), { base: '30/1', average: '24/1', tickS });
    expect(rate).toEqual({ fps: 24, fpsFraction: '24/1', variableRate: true });
  });

  it('believes no average that the rest of the clip does not bear out, and says so', () => {
    const stated = { base: '50/1', average: '50/1', tickS };
    const expected = { fps: 25, fpsFraction: '25/1', variableRate: false, misstatedFps: 50 };
    expect(frameRate(stampsS(100, 25), { ...stated, isWhole: true })).toEqual(expected);
    const laterS = [stampsS(50, 25), stampsS(50, 25).map((timeS) => timeS + 300)];
    expect(frameRate(stampsS(500, 25), { ...stated, laterS })).toEqual(expected);
    expect(asksForLater(stampsS(500, 25), stated)).toBe(true);
    expect(asksForLater(stampsS(500, 25), { ...stated, average: '25/1' })).toBe(false);
  });

  it('finds a rate that changes later where later time stamps show it', () => {
    const stated = { base: '30/1', average: '24/1', tickS, laterS: [stampsS(50, 18)] };
    expect(frameRate(stampsS(500, 30), stated)).toEqual({
      ...{ fps: 24, fpsFraction: '24/1', variableRate: true },
    });
  });

  it('does not count fields as frames', () => {
    const stated = { base: '50/1', average: '25/1', tickS };
    const expected = { fps: 25, fpsFraction: '25/1', variableRate: false };
    expect(frameRate(stampsS(100, 25), stated)).toEqual(expected);
    expect(frameRate([0, 0.04], stated)).toEqual(expected);
    expect(
      frameRate(stampsS(100, 30000 / 1001), { base: '60000/1001', average: '0/0', tickS }),
    ).toMatchObject({
      fpsFraction: '30000/1001',
    });
  });

  it('gives the usual rate for a statement made of rounded time stamps', () => {
    const rate = frameRate(stampsS(180, 60000 / 1001), { base: '19001/317', average: '19001/317', tickS });
    expect(rate.fpsFraction).toBe('60000/1001');
  });

  it('stands on time stamps when nothing is stated, and on nothing at 25', () => {
    expect(
      frameRate(stampsS(200, 24000 / 1001), { base: '0/0', average: undefined, tickS }).fpsFraction,
    ).toBe('24000/1001');
    expect(frameRate([], { base: undefined, average: undefined, tickS }).fps).toBe(25);
  });

  it('does not mind the order of packets', () => {
    const timeS = stampsS(60, 25);
    const coded = timeS.map((_, n) => timeS[n % 3 === 0 ? n : n % 3 === 1 ? n + 1 : n - 1] ?? timeS[n]);
    expect(frameRate(coded, { base: '25/1', average: '25/1', tickS }).variableRate).toBe(false);
  });
});

describe('statements of a stream', () => {
  it.each([
    { tags: { rotate: '90' }, rotationDeg: 90 },
    { tags: { rotate: '-90' }, rotationDeg: 270 },
    { tags: { rotate: '180' }, rotationDeg: 180 },
    { tags: {}, rotationDeg: 0 },
  ])('reads the older rotation tag $tags clockwise', ({ tags, rotationDeg }) => {
    expect(uprightTurn({ tags })).toEqual({ rotationDeg, mirrored: false });
  });

  it('reads rotation side data without a matrix anticlockwise, and before the tag', () => {
    const side_data_list = [{ side_data_type: 'Display Matrix', rotation: -90 }];
    expect(uprightTurn({ side_data_list, tags: { rotate: '180' } }).rotationDeg).toBe(90);
  });

  it.each([
    { rotation: -37, rotationDeg: 0, skewDeg: 37 },
    { rotation: 100, rotationDeg: 270, skewDeg: -10 },
    { rotation: -90.4, rotationDeg: 90 },
  ])('keeps what a turn of $rotation has beyond quarter turns', ({ rotation, ...wanted }) => {
    const side_data_list = [{ side_data_type: 'Display Matrix', rotation }];
    expect(uprightTurn({ side_data_list })).toEqual({ ...wanted, mirrored: false });
  });

  it('tells turned and mirrored apart from turned', () => {
    const displaymatrix =
      '\n00000000:            0       65536           0\n00000001:        65536           0           0\n00000002:            0           0  1073741824\n';
    const side_data_list = [{ side_data_type: 'Display Matrix', displaymatrix, rotation: -90 }];
    // x and y change places: stored right is shown down, stored down is shown right.
    expect(uprightTurn({ side_data_list })).toEqual({ rotationDeg: 90, mirrored: true });
  });

  it.each([
    ['yuv420p', 8],
    ['yuvj422p', 8],
    ['yuv422p10le', 10],
    ['yuv444p12be', 12],
    ['p010le', 10],
    ['p216le', 16],
    ['gray10le', 10],
    ['gbrp16le', 16],
    ['rgb48be', 16],
    ['rgb24', 8],
    ['nv12', 8],
    ['yuv410p', 8],
  ])('reads from the pixel format %s a depth of %i', (pix_fmt, depth) => {
    expect(bitDepth({ pix_fmt })).toBe(depth);
  });

  it('takes the length of the stream, then its tag, then that of the file', () => {
    const format = { duration: '9' };
    expect(durationOf({ format }, { duration: '4.5', tags: { DURATION: '00:00:05.000' } })).toBe(4.5);
    expect(durationOf({ format }, { tags: { DURATION: '01:02:03.500000000' } })).toBe(3723.5);
    expect(durationOf({ format }, { tags: { 'DURATION-eng': '00:00:02.000' } })).toBe(2);
    expect(durationOf({ format }, {})).toBe(9);
    expect(durationOf({ format: { duration: 'N/A' } }, {})).toBe(null);
  });

  it('finds a timecode wherever it stands and leaves out what is none', () => {
    const tmcd = { codec_type: 'data', tags: { timecode: '10:00:00.05' } };
    expect(timecodeOf({ streams: [{}, tmcd] }, {})).toBe('10:00:00;05');
    expect(timecodeOf({ format: { tags: { timecode: '01:02:03:04' } } }, {})).toBe('01:02:03:04');
    expect(timecodeOf({ format: { tags: { timecode: 'afternoon' } } }, {})).toBe(null);
  });

  it('takes no cover picture and no thumbnails for the clip', () => {
    const cover = { codec_type: 'video', disposition: { attached_pic: 1 } };
    const clip = { codec_type: 'video', disposition: { attached_pic: 0 } };
    expect(videoStream([{ codec_type: 'audio' }, cover, clip])).toBe(clip);
    expect(videoStream([cover])).toBe(undefined);
  });
});

describe('the timecode', () => {
  it('of Matroska is found although its name is in capitals', () => {
    const probed = { format: { tags: { TIMECODE: '10:00:00:00' } } };
    expect(timecodeOf(probed, {})).toBe('10:00:00:00');
  });
});

describe('colours', () => {
  it('are what the stream says, in its words', () => {
    const tags = colourTags({
      ...{ pix_fmt: 'yuv420p10le', color_range: 'tv', color_space: 'bt2020nc', color_primaries: 'bt2020' },
      ...{ color_transfer: 'arib-std-b67', chroma_location: 'topleft' },
    });
    expect(tags).toEqual({
      ...{ primaries: 'bt2020', transfer: 'arib-std-b67', matrix: 'bt2020nc', range: 'tv' },
      chromaLocation: 'topleft',
    });
  });

  it('are unknown where the stream says so or nothing', () => {
    const nothing = { primaries: null, transfer: null, matrix: null, range: null, chromaLocation: null };
    expect(colourTags({})).toEqual(nothing);
    const said = { color_range: 'unknown', color_space: 'unknown', color_primaries: 'reserved' };
    expect(colourTags({ ...said, chroma_location: 'unspecified' })).toEqual(nothing);
  });

  it('of full-range formats are of full range without a tag', () => {
    expect(colourTags({ pix_fmt: 'yuvj420p' }).range).toBe('pc');
  });
});

describe('sound streams', () => {
  it('are listed in order, with what is known of each', () => {
    const picture = { codec_type: 'video', codec_name: 'h264' };
    const stereo = {
      codec_type: 'audio',
      codec_name: 'aac',
      channels: 2,
      channel_layout: 'stereo',
      start_time: '0.1',
    };
    const takes = { codec_type: 'audio', codec_name: 'pcm_s24le', channels: 8, bits_per_sample: 24 };
    expect(soundStreams([picture, stereo, takes, { codec_type: 'audio' }])).toEqual([
      { codec: 'aac', channels: 2, channelLayout: 'stereo', bitDepth: 0, startTimeS: 0.1 },
      { codec: 'pcm_s24le', channels: 8, channelLayout: null, bitDepth: 24, startTimeS: null },
      { codec: 'unknown', channels: 0, channelLayout: null, bitDepth: 0, startTimeS: null },
    ]);
  });
});
