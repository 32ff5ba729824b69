/** What a clip is, read from clips made to be so. */
import { mkdir, readFile, truncate, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { probeClip, sha256OfFile } from '../../src/footage/index.js';
import { expectWithin } from '../support/expect-within.js';
import {
  clipFolder,
  failureOf,
  makeClip,
  makeCodedClip,
  setDisplayMatrix,
  testSource,
  tools,
} from './made-clips.js';

const folder = clipFolder();
const at = (name: string) => path.join(folder, name);
const X264 = ['-c:v', 'libx264', '-preset', 'ultrafast', '-pix_fmt', 'yuv420p'];

describe('facts of a clip', () => {
  it('gives size, exact rate, length and codec of an ordinary clip', async () => {
    const file = await makeClip(at('hall.mp4'), ...testSource(320, 180, '24000/1001', 2), ...X264);
    const facts = await probeClip(file, tools);
    expect(facts).toMatchObject({
      file,
      codec: 'h264',
      pixelFormat: 'yuv420p',
      bitDepth: 8,
      widthPx: 320,
      heightPx: 180,
      rotationDeg: 0,
      mirrored: false,
      pixelAspect: 1,
      fpsFraction: '24000/1001',
      variableRate: false,
      interlaced: false,
      hasAudio: false,
      frameCount: 48,
      startTimeS: 0,
      timecodeStart: null,
    });
    expectWithin(facts.fps, 24000 / 1001, { abs: 1e-12 }, 'rate');
    expectWithin(facts.durationS, (48 * 1001) / 24000, { abs: 1e-5, why: 'container ticks' }, 'length');
  });

  it('takes the rate of an AVI from the decoding times where not all times of showing are there', async () => {
    const coding = ['-c:v', 'mpeg4', '-bf', '2'];
    const file = await makeClip(at('b-frames.avi'), ...testSource(96, 64, '10', 2), ...coding);
    const facts = await probeClip(file, tools);
    expect(facts).toMatchObject({ fpsFraction: '10/1', variableRate: false, frameCount: 20 });
    expect(facts).not.toHaveProperty('misstatedFps');
  });

  it('sees sound beside the picture and lets the picture decide the length', async () => {
    const sound = ['-f', 'lavfi', '-i', 'sine=frequency=440:duration=3'];
    const file = await makeClip(at('sound.mkv'), ...testSource(160, 120, '25', 2), ...sound, ...X264);
    const facts = await probeClip(file, tools);
    expect(facts.hasAudio).toBe(true);
    expectWithin(facts.durationS, 2, { abs: 0.05, why: 'one frame' }, 'length of the picture');
    expect(facts.frameCount).toBe(50);
  });

  it.each([
    { name: 'a quarter turn clockwise', matrix: [0, 1, -1, 0], rotationDeg: 90, mirrored: false },
    { name: 'upside down', matrix: [-1, 0, 0, -1], rotationDeg: 180, mirrored: false },
    { name: 'a quarter turn anticlockwise', matrix: [0, -1, 1, 0], rotationDeg: 270, mirrored: false },
    { name: 'mirrored', matrix: [-1, 0, 0, 1], rotationDeg: 0, mirrored: true },
  ])('reads a display matrix that turns the picture: $name', async ({ matrix, rotationDeg, mirrored }) => {
    const file = await makeCodedClip(at(`turned-${rotationDeg}-${mirrored}.mp4`), 5);
    await setDisplayMatrix(file, matrix);
    const facts = await probeClip(file, tools);
    expect(facts).toMatchObject({ rotationDeg, mirrored });
    expect([facts.widthPx, facts.heightPx]).toEqual(rotationDeg % 180 === 0 ? [128, 64] : [64, 128]);
  });

  it('gives the shown width of anamorphic footage', async () => {
    const file = await makeClip(
      at('squeezed.mp4'),
      ...testSource(144, 108, '25', 1),
      '-vf',
      'setsar=4/3',
      ...X264,
    );
    const facts = await probeClip(file, tools);
    expectWithin(facts.pixelAspect, 4 / 3, { rel: 1e-9 }, 'pixel aspect');
    expect([facts.widthPx, facts.heightPx]).toEqual([192, 108]);
  });

  it('tells interlaced footage and gives its frame rate, not its field rate', async () => {
    const fields = [
      '-vf',
      'tinterlace=interleave_top,fieldorder=tff',
      '-flags',
      '+ilme+ildct',
      '-x264opts',
      'tff=1',
    ];
    const file = await makeClip(at('fields.mp4'), ...testSource(160, 120, '50', 2), ...fields, ...X264);
    const facts = await probeClip(file, tools);
    expect(facts.interlaced).toBe(true);
    expectWithin(facts.fps, 25, { rel: 1e-6 }, 'frame rate');
    expect(facts.variableRate).toBe(false);
  });

  it('reads 10 bits and the transfer curve', async () => {
    const deep = [
      '-c:v',
      'prores_ks',
      '-pix_fmt',
      'yuv422p10le',
      '-color_trc',
      'arib-std-b67',
      '-color_primaries',
      'bt2020',
      '-movflags',
      '+write_colr',
      '-colorspace',
      'bt2020nc',
    ];
    const file = await makeClip(at('deep.mov'), ...testSource(160, 120, '25', 1), ...deep);
    const facts = await probeClip(file, tools);
    expect(facts).toMatchObject({ codec: 'prores', bitDepth: 10, colourTransfer: 'arib-std-b67' });
  });

  it('calls a clip variable when its frames are unevenly spaced, and gives the mean rate', async () => {
    const uneven = [
      '-vf',
      "settb=1/1000,setpts='(N+0.3*mod(N,3))/25/TB'",
      '{passthrough}',
      '-enc_time_base',
      '1/1000',
    ];
    for (const name of ['uneven.mp4', 'uneven.mkv']) {
      const file = await makeClip(at(name), ...testSource(160, 120, '25', 4), ...uneven, ...X264);
      const facts = await probeClip(file, tools);
      expect(facts.variableRate, name).toBe(true);
      expectWithin(facts.fps, 25, { rel: 0.02, why: 'the last frame has no length of its own' }, name);
    }
  });

  it.each(['24000/1001', '30000/1001', '25', '50', '60000/1001'])(
    'does not take millisecond rounding in Matroska for a variable rate (%s)',
    async (rate) => {
      const file = await makeClip(at(`even-${parseInt(rate)}.mkv`), ...testSource(64, 48, rate, 3), ...X264);
      const facts = await probeClip(file, tools);
      expect(facts.variableRate).toBe(false);
      expect(facts.fpsFraction).toBe(rate.includes('/') ? rate : `${rate}/1`);
    },
  );

  it.each([
    { timecode: '10:20:30:12', name: 'tc.mov' },
    { timecode: '01:00:00;02', name: 'tc-drop.mov' },
    { timecode: '10:20:30:12', name: 'tc.mp4' },
  ])('reads the start timecode $timecode of $name', async ({ timecode, name }) => {
    const file = await makeCodedClip(at(name), 5, { fps: 29.97, fpsFraction: '30000/1001', timecode });
    expect((await probeClip(file, tools)).timecodeStart).toBe(timecode);
  });

  it('counts the frames of a bare stream that states no length', async () => {
    const file = await makeClip(
      at('bare.h264'),
      ...testSource(64, 48, '24000/1001', 2),
      ...X264,
      '-f',
      'h264',
    );
    const facts = await probeClip(file, tools);
    expect(facts).toMatchObject({ frameCount: 48, fpsFraction: '24000/1001', hasTimeStamps: false });
    expectWithin(facts.durationS, 2.002, { abs: 1e-9, why: 'a count over a rate' }, 'length');
  });

  it.each([
    '-lead.mp4',
    'it\'s "so" [1].mp4',
    'Käserei 日本 .mp4',
    '%d %03d.mp4',
    'a:b.mp4',
    'file:x.mp4',
    'a&b;$(c).mp4',
  ])('takes the odd name %s', async (name) => {
    const file = await makeCodedClip(at(name), 5);
    expect(await probeClip(file, tools)).toMatchObject({ file, frameCount: 5 });
  });
});

describe('files that are no clip', () => {
  beforeAll(async () => {
    await makeClip(at('tone.m4a'), '-f', 'lavfi', '-i', 'sine=duration=1');
    await makeClip(at('cover.png'), '-f', 'lavfi', '-i', 'color=c=red:s=64x64', '-frames:v', '1');
  });

  it('says that there is no such file', async () => {
    const said = await failureOf('clip-missing', () => probeClip(at('nowhere.mp4'), tools));
    expect(said).toBe(`There is no file "${at('nowhere.mp4')}"; check the path.`);
  });

  it('refuses a folder, an empty file, a text and a playlist that points elsewhere', async () => {
    await mkdir(at('folder.mp4'));
    await writeFile(at('empty.mp4'), '');
    await writeFile(at('text.mp4'), 'Tiled corridor, second pass, aluminium rail.\n'.repeat(50));
    await writeFile(at('list.mp4'), "ffconcat version 1.0\nfile 'hall.mp4'\n");
    await writeFile(
      at('list.m3u8'),
      '#EXTM3U\n#EXT-X-TARGETDURATION:2\n#EXTINF:2,\nhttp://127.0.0.1:9/a.ts\n#EXT-X-ENDLIST\n',
    );
    expect(await failureOf('clip-unreadable', () => probeClip(at('folder.mp4'), tools))).toContain(
      'it is a folder',
    );
    expect(await failureOf('clip-unreadable', () => probeClip(at('empty.mp4'), tools))).toContain(
      'it is empty',
    );
    expect(await failureOf('clip-unreadable', () => probeClip(at('text.mp4'), tools))).toContain(
      'not a video file',
    );
    for (const name of ['list.mp4', 'list.m3u8']) {
      expect(await failureOf('clip-unreadable', () => probeClip(at(name), tools))).toContain(
        'a list that names other files',
      );
    }
  });

  it('says that sound alone is no picture, cover picture or not', async () => {
    await makeClip(
      at('cover.m4a'),
      '-i',
      at('tone.m4a'),
      '-i',
      at('cover.png'),
      '-map',
      '0',
      '-map',
      '1',
      '-c',
      'copy',
      '-disposition:v',
      'attached_pic',
      '-f',
      'mp4',
    );
    for (const name of ['tone.m4a', 'cover.m4a']) {
      expect(await failureOf('clip-no-video', () => probeClip(at(name), tools))).toContain(
        'sound but no moving picture',
      );
    }
  });

  it('says that the table of contents is missing when a recording was cut short', async () => {
    const file = await makeClip(at('cut.mp4'), ...testSource(160, 120, '25', 2), ...X264);
    await truncate(file, Math.floor((await readFile(file)).length / 2));
    expect(await failureOf('clip-unreadable', () => probeClip(file, tools))).toContain(
      'table of contents is missing',
    );
  });
});

describe('the check sum of a file', () => {
  it('equals the published SHA-256 of "abc"', async () => {
    await writeFile(at('abc'), 'abc');
    // FIPS 180-4 example, value from memory.
    expect(await sha256OfFile(at('abc'))).toBe(
      'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad',
    );
  });

  it('says so when there is nothing to read', async () => {
    await failureOf('clip-missing', () => sha256OfFile(at('nowhere')));
    await failureOf('clip-unreadable', () => sha256OfFile(folder));
  });
});
