/** What makes two measurements the same, and what does not. */
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { jobKey, settingsKey, settingsKeyOf, type JobSettings } from '../../src/batch/index.js';
import { TrundleError } from '../../src/run/index.js';

const GIVEN: JobSettings = {
  rig: { focalLengthMm: 35, sensorWidthMm: 36, machinesHz: [31, 24] },
  delivery: { name: 'web HD', maxCropPercent: 4 },
  stabilise: { mode: 'keepMove', smoothingS: 1 },
  inPoint: '2s',
  outPoint: '9s',
};
const CLIP = 'ab'.repeat(32);

const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'trundle-key-'));
afterAll(() => fs.rmSync(folder, { recursive: true, force: true }));

describe('the key of settings', () => {
  it('is the same for the same settings, in whatever order they were written and whatever is left undefined', () => {
    const turned: JobSettings = {
      ...{ outPoint: '9s ', inPoint: '2s', cutoffHz: undefined },
      stabilise: { takeS: undefined, smoothingS: 1, mode: 'keepMove' },
      delivery: { maxCropPercent: 4, name: 'web HD' },
      rig: { machinesHz: [31, 24], sensorWidthMm: 36, focalLengthMm: 35 },
    };
    expect(settingsKey(turned)).toBe(settingsKey(GIVEN));
    expect(settingsKey(GIVEN)).toMatch(/^[0-9a-f]{64}$/);
  });

  it('takes what is used anyway for not given', () => {
    expect(settingsKey({ analysisWidthPx: 960, cutoffHz: 0.8, seed: 1, rig: {}, delivery: {} })).toBe(
      settingsKey({}),
    );
  });

  it.each<[string, JobSettings]>([
    ['a figure of the rig', { rig: { ...GIVEN.rig, focalLengthMm: 35.5 } }],
    ['an entry of the rig more', { rig: { ...GIVEN.rig, speedMps: 0.2 } }],
    ['the order of the machines', { rig: { ...GIVEN.rig, machinesHz: [24, 31] } }],
    ['a limit of the delivery', { delivery: { ...GIVEN.delivery, maxCropPercent: 5 } }],
    ['the way of stabilising', { stabilise: { mode: 'holdStill' } }],
    ['the in point', { inPoint: '2.5s' }],
    ['the out point', { outPoint: undefined }],
    ['the working width', { analysisWidthPx: 640 }],
    ['where the move ends', { cutoffHz: 1 }],
    ['the seed', { seed: 2 }],
  ])('changes with %s', (_what, change) => {
    expect(settingsKey({ ...GIVEN, ...change })).not.toBe(settingsKey(GIVEN));
  });

  it('does not change with what changes no figure: clip, sheet of the pass and units', async () => {
    const plain = { ...GIVEN, clip: 'one.mov' };
    const told = { ...GIVEN, clip: 'moved/two.mov', pass: { floor: 'dairy hall' }, units: 'both' as const };
    expect(await settingsKeyOf(told)).toBe(await settingsKeyOf(plain));
    expect(await settingsKeyOf(plain)).toBe(settingsKey(GIVEN));
  });

  it('changes with what stands in a motion log, not with its place, and refuses one that cannot be read', async () => {
    const written = (name: string, rate: number): string => {
      const rows = Array.from({ length: 100 }, (_, i) => `${i / 20},${rate},0,0`);
      fs.writeFileSync(
        path.join(folder, name),
        ['timeS,panDegPerS,tiltDegPerS,rollDegPerS', ...rows].join('\n'),
      );
      return path.join(folder, name);
    };
    const keyOf = (motionLogFile: string): Promise<string> =>
      settingsKeyOf({ ...GIVEN, clip: 'x.mov', motionLogFile });
    const first = await keyOf(written('a.csv', 1));
    expect(await keyOf(written('moved.csv', 1))).toBe(first);
    expect(await keyOf(written('b.csv', 2))).not.toBe(first);
    await expect(keyOf(path.join(folder, 'none.csv'))).rejects.toMatchObject({
      code: 'motion-log-unreadable',
    });
    await expect(settingsKeyOf({ clip: 'x.mov', otherRun: folder })).rejects.toThrow(TrundleError);
  });

  it('refuses figures that are none', () => {
    expect(() => settingsKey({ rig: { speedMps: NaN } })).toThrow(/finite/);
  });
});

describe('the key of a job', () => {
  it('is of clip and settings both', () => {
    const other = settingsKey({});
    const keys = [
      jobKey(CLIP, settingsKey(GIVEN)),
      jobKey(CLIP, other),
      jobKey('cd'.repeat(32), settingsKey(GIVEN)),
    ];
    expect(new Set(keys).size).toBe(3);
    expect(jobKey(CLIP, other)).toBe(keys[1]);
  });

  it('refuses what is no checksum', () => {
    expect(() => jobKey('AB'.repeat(32), settingsKey({}))).toThrow(RangeError);
    expect(() => jobKey(CLIP, 'keep-move')).toThrow(/settings must be 64/);
  });
});
