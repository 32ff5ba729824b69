import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { findTools, probeClip, type Tools } from '../../src/footage/index.js';
import { parseRigFile } from '../../src/run/index.js';
import {
  SYNTH_DEFAULTS,
  readTruth,
  resolveSynthOptions,
  rigOf,
  sampleClips,
  startFilm,
  synthesise,
  truthOf,
  truthText,
} from '../../src/synth/index.js';
import { expectWithin } from '../support/expect-within.js';

let folder: string;
let tools: Tools;
beforeAll(async () => {
  folder = fs.mkdtempSync(path.join(os.tmpdir(), 'made-up-'));
  tools = await findTools();
});
afterAll(() => fs.rmSync(folder, { recursive: true, force: true }));

const filesAt = (name: string) => ({
  clipFile: path.join(folder, `${name}.mp4`),
  truthFile: path.join(folder, `${name}.truth.json`),
  rigFile: path.join(folder, `${name}.rig.json`),
});
const SHORT = resolveSynthOptions({
  widthPx: 320,
  heightPx: 180,
  durationS: 0.5,
  fps: '24000/1001',
  deck: { floor: { joints: {} } },
});

describe('synthesise', () => {
  it('writes a clip that says what it is, with truth and rig beside it', async () => {
    const files = filesAt('one');
    let frames = 0;
    const truth = await synthesise(SHORT, files, tools, { onFrame: (count) => (frames = count) });
    const facts = await probeClip(files.clipFile, tools);
    expect(facts).toMatchObject({ widthPx: 320, heightPx: 180, fpsFraction: '24000/1001', frameCount: 12 });
    expect(frames).toBe(12);
    const read = readTruth(files.truthFile);
    expect(read.timeS.length).toBe(12);
    expectWithin(read.timeS[11], (11 * 1001) / 24000, { abs: 1e-9 });
    read.centres.forEach((value, i) =>
      expectWithin(value, truth.centres[i], { abs: 1e-8, why: 'digits kept' }),
    );
    read.rotations.forEach((value, i) =>
      expectWithin(value, truth.rotations[i], { abs: 1e-9, why: 'digits kept' }),
    );
    const { rig } = parseRigFile(fs.readFileSync(files.rigFile, 'utf8'), files.rigFile);
    expect(rig).toMatchObject({
      focalLengthMm: 35,
      lensAzimuthDeg: -90,
      jointSpacingM: 0.3,
      wheelbaseM: 0.45,
    });
    expectWithin(rig.travelM!, truth.travelM, { abs: 1e-4, why: 'written to a tenth of a millimetre' });
  });

  it('gives the same bytes on one thread and on two', async () => {
    const [a, b] = [filesAt('single'), filesAt('double')];
    await synthesise(SHORT, a, tools, { threads: 1 });
    await synthesise(SHORT, b, tools, { threads: 2 });
    for (const kind of ['clipFile', 'truthFile', 'rigFile'] as const)
      expect(fs.readFileSync(a[kind]).equals(fs.readFileSync(b[kind]))).toBe(true);
  });

  it.each([1, 2])('stops when told to and leaves no clip behind (%d threads)', async (threads) => {
    const files = filesAt(`stopped-${threads}`);
    const stop = new AbortController();
    const run = synthesise(SHORT, files, tools, {
      threads,
      signal: stop.signal,
      onFrame: (count) => count === 2 && stop.abort(),
    });
    await expect(run).rejects.toMatchObject({ code: 'interrupted' });
    expect(fs.readdirSync(folder).filter((name) => name.includes(`stopped-${threads}`))).toEqual([]);
  });

  it('refuses a folder that is not there', async () => {
    const files = { ...filesAt('x'), clipFile: path.join(folder, 'missing', 'x.mp4') };
    await expect(synthesise(SHORT, files, tools)).rejects.toMatchObject({ code: 'output-unwritable' });
  });
});

describe('truth files', () => {
  it('of other versions, other kinds or half files are refused', () => {
    const file = path.join(folder, 'bad.json');
    const good = truthText(truthOf(startFilm(SHORT)));
    for (const text of [
      '',
      '[]',
      good.replace('trundle-truth/1', 'trundle-truth/9'),
      good.slice(0, -40),
      good.replace(/,[^,]*\]\n\]\}/, ']\n]}'),
    ]) {
      fs.writeFileSync(file, text);
      expect(() => readTruth(file)).toThrow(/truth file/);
    }
    expect(() => readTruth(path.join(folder, 'none.json'))).toThrow(/cannot be read/);
  });
});

describe('truth and rig', () => {
  it('list what lies on the floor, and under which track', () => {
    const truth = truthOf(
      startFilm(
        resolveSynthOptions({
          durationS: 0.2,
          deck: {
            floor: {
              joints: { spacingM: 0.6 },
              steps: [{ atM: 0.25, heightMm: 1.2 }],
              bumps: [{ atM: 0.4, heightMm: 0.5, lengthMm: 40, side: 'left' }],
            },
          },
        }),
      ),
    );
    const file = path.join(folder, 'floor.truth.json');
    fs.writeFileSync(file, truthText(truth));
    const { floor } = readTruth(file);
    expect(floor?.joints.length).toBeGreaterThanOrEqual(1);
    expect(floor?.steps).toEqual([{ atM: 0.25, leftStepM: 0.0012, rightStepM: 0.0012 }]);
    expect(floor?.bumps).toEqual([{ atM: 0.4, lengthM: 0.04, leftM: 0.0005, rightM: 0 }]);
  });

  it('call a head that drifts operated and one that does not locked', () => {
    expect(rigOf(resolveSynthOptions({ driftDeg: 0 }), 1).head).toBe('locked');
    expect(rigOf(resolveSynthOptions({ driftDeg: 0.05 }), 1).head).toBe('operated');
    expect(rigOf(resolveSynthOptions({ deck: { wheelRadiusM: 0.1 } }), 1).wheelDiameterM).toBe(0.2);
  });
});

describe('options', () => {
  it('are completed from the defaults, inside the groups too', () => {
    const options = resolveSynthOptions({
      vibration: { angularDegRms: { tilt: 0.1 } },
      deck: { floor: { gdM3: 1e-7 } },
    });
    expect(options.vibration.angularDegRms).toEqual({ pan: 0, tilt: 0.1, roll: 0 });
    expect(options.deck).toMatchObject({
      wheelbaseM: 0.45,
      floor: { gdM3: 1e-7, waviness: 2, joints: null },
    });
    expect(options.focalLengthMm).toBe(SYNTH_DEFAULTS.focalLengthMm);
  });

  it.each([
    [{ fps: 'fast' }, /fps/],
    [{ widthPx: 321 }, /widthPx/],
    [{ durationS: NaN }, /durationS/],
    [{ scene: 'moon' as 'dairy-hall' }, /scene/],
    [{ move: 'jump' as 'arc' }, /move/],
    [{ move: 'arc', deck: {} }, /deck/],
    [{ move: 'arc', lensAzimuthDeg: 0 }, /lensAzimuthDeg/],
    [{ deck: { wheelbaseM: 0 } }, /wheelbaseM/],
    [{ deck: { contactPatchM: 2 } }, /contactPatchM/],
    [{ deck: { floor: { bumps: [{ atM: 1, heightMm: 1, lengthMm: 0 }] } } }, /lengthMm/],
    [{ deck: { floor: { steps: [{ atM: 1, heightMm: 1, side: 'top' as 'left' }] } } }, /side/],
    [{ vibration: { peaks: [{ freqHz: 5, share: 1.2 }] } }, /shares/],
  ] as const)('that cannot be filmed are refused by name: %j', (given, rule) => {
    expect(() => resolveSynthOptions(given)).toThrow(rule);
  });
});

describe('sample clips', () => {
  it('have a lens azimuth that fits their move', () => {
    for (const { options } of sampleClips()) {
      expect(Math.abs(options.lensAzimuthDeg)).toBe(options.move === 'pushIn' ? 0 : 90);
      expect(rigOf(options, 1).lensAzimuthDeg).toBe(options.lensAzimuthDeg);
    }
  });

  it('lie in sample-clips/ as the code would write them', () => {
    for (const { name, options } of sampleClips()) {
      const stem = path.join(import.meta.dirname, '../../sample-clips', name);
      const written = fs.readFileSync(`${stem}.truth.json`, 'utf8');
      expect(written).toBe(truthText(truthOf(startFilm(options))));
      expect(written.length).toBeLessThan(200_000);
      expect(fs.statSync(`${stem}.mp4`).size).toBeLessThan(3_000_000);
    }
  });
});
