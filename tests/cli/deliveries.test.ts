/** Deliveries by name: on the command line, in the rig file, and in a file of the crew's own. */
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { requestFor } from '../../src/cli/clip-request.js';
import { DELIVERY_PRESETS, resolveDelivery } from '../../src/judge/index.js';
import type { Delivery } from '../../src/run/index.js';
import { runWords } from '../support/recorded-io.js';

let folder = '';
beforeEach(() => {
  folder = fs.mkdtempSync(path.join(os.tmpdir(), 'trundle-deliveries-'));
  vi.stubEnv('TRUNDLE_DATA', folder);
});
afterEach(() => {
  vi.unstubAllEnvs();
  fs.rmSync(folder, { recursive: true, force: true });
});

const usual = (): string => path.join(folder, 'deliveries.json');
const write = (value: unknown, name = 'deliveries.json'): string => {
  const file = path.join(folder, name);
  fs.writeFileSync(file, JSON.stringify(value));
  return file;
};

/** The delivery that a command line asks of a clip, with a rig file or without. */
function asked(words: Record<string, string>, rigFile?: unknown): Delivery | undefined {
  const rig = rigFile === undefined ? {} : { rig: write(rigFile, 'rig.json') };
  const io = {
    out: () => {},
    err: () => {},
    interactive: false,
    colour: false,
    signal: new AbortController().signal,
  };
  const values = { _: [], ...rig, ...words } as unknown as Parameters<typeof requestFor>[1];
  return requestFor('nowhere.mp4', values, io).delivery;
}

describe('a delivery by name', () => {
  it('is asked for with --for, in any spelling, and gives every figure', () => {
    expect(asked({ for: 'web-hd' })).toEqual(resolveDelivery({ name: 'web HD' }));
  });

  it('gives way to figures beside it', () => {
    expect(
      asked({ for: 'phone', deliver: '1280x720', 'max-crop': '3%', viewing: '4H', 'max-residual': '2px' }),
    ).toEqual({
      name: 'phone',
      widthPx: 1280,
      heightPx: 720,
      maxCropPercent: 3,
      viewingDistanceHeights: 4,
      maxResidualPx: 2,
    });
    // The shake that may stay follows from the size and distance that are asked for.
    expect(asked({ for: 'phone', viewing: '10' })?.maxResidualPx).toBe(2.7);
  });

  it('may stand in the rig file, with figures beside it there too', () => {
    expect(asked({}, { delivery: { name: 'Phone', maxCropPercent: 2 } })).toEqual(
      resolveDelivery({ name: 'phone', maxCropPercent: 2 }),
    );
    expect(asked({ 'max-crop': '1%' }, { delivery: { name: 'phone' } })?.maxCropPercent).toBe(1);
  });

  it('on the command line takes the place of the whole delivery of the rig file', () => {
    expect(asked({ for: 'big screen' }, { delivery: { name: 'phone', maxCropPercent: 2 } })).toEqual(
      resolveDelivery({ name: 'big screen' }),
    );
  });

  it('that nobody knows is refused with the nearest, unless the rig file gives figures for it', () => {
    expect(() => asked({ for: 'fone' })).toThrow(
      /no delivery "fone"; the nearest is "phone".*trundle deliveries/,
    );
    expect(() => asked({}, { delivery: { name: 'fone' } })).toThrow(/Give figures beside a name of your own/);
    expect(asked({}, { delivery: { name: 'museum wall', widthPx: 2560 } })).toEqual({
      name: 'museum wall',
      widthPx: 2560,
    });
  });

  it('leaves a delivery without a name as it is, and looks for no file then', () => {
    write('not a table');
    expect(asked({}, { widthPx: 1920 })).toEqual({ widthPx: 1920 });
    expect(() => asked({ for: 'phone' })).toThrow(/must be one JSON object/);
  });

  it.each([
    ['3.1H', 3.1],
    ['3.1', 3.1],
    ['2 heights', 2],
    ['.5h', 0.5],
  ])('is watched from %s', (text, heights) => {
    expect(asked({ viewing: text })?.viewingDistanceHeights).toBe(heights);
  });

  it.each([
    ['far', /"far" is not a viewing distance.*like 3.1H/],
    ['3m', /"3m" is not a viewing distance/],
    ['0.1H', /must be at least 0.3/],
    ['300H', /must be at most 30/],
  ])('is not watched from %s', (text, message) => {
    expect(() => asked({ viewing: text })).toThrow(message);
  });
});

describe("a file of the crew's own deliveries", () => {
  it('is found in the data folder, or where --deliveries says', () => {
    write({ phone: { maxCropPercent: 7 }, 'museum wall': { widthPx: 2560, heightPx: 720 } });
    expect(asked({ for: 'phone' })?.maxCropPercent).toBe(7);
    expect(asked({ for: 'Museum Wall' })).toMatchObject({ name: 'museum wall', widthPx: 2560 });
    const other = write({ phone: { maxCropPercent: 8 } }, 'other.json');
    expect(asked({ for: 'phone', deliveries: other })?.maxCropPercent).toBe(8);
  });

  it.each([
    [['measure', 'a.mp4', '--deliveries', 'NOWHERE'], /cannot be read.*\[delivery-unreadable\]/],
    [['measure', 'a.mp4', '--for', 'phone', '--viewing', '3m'], /"3m".*\[argument-invalid\]/],
    [['measure', 'a.mp4', '--for', 'cinemascope'], /no delivery "cinemascope".*\[argument-invalid\]/],
    [['deliveries', '--deliveries', 'NOWHERE'], /cannot be read.*\[delivery-unreadable\]/],
    [['deliveries', 'some.json'], /not looked at.*\[argument-invalid\]/],
    [['deliveries', '--write', 'a.json', 'b.json'], /"b.json" is one file too many/],
    [['deliveries', '--write', 'NOWHERE/a.json'], /cannot be written.*\[output-unwritable\]/],
  ])('answers %j with one sentence and status 2', async (words, sentence) => {
    const there = words.map((word) => word.replace('NOWHERE', path.join(folder, 'no-such-folder')));
    const { status, out, err } = await runWords(...there);
    expect(status).toBe(2);
    expect(out).toBe('');
    expect(err).toMatch(sentence);
  });

  it('is found in the folder that --data-dir names, and written there', async () => {
    const other = path.join(folder, 'other');
    const { err } = await runWords('deliveries', '--write', '--data-dir', other);
    expect(err).toBe(`Deliveries: ${path.join(other, 'deliveries.json')}\n`);
    write({ phone: { maxCropPercent: 7 } }, 'other/deliveries.json');
    expect((await runWords('deliveries', '--data-dir', other)).out).toMatch(/^phone .* 7 % /m);
    expect((await runWords('deliveries')).out).toContain('All built in.');
    expect(asked({ for: 'phone', 'data-dir': other })?.maxCropPercent).toBe(7);
  });

  it('that is faulty is refused by its own code', async () => {
    write({ phone: { maxCrop: 3 } });
    const { status, err } = await runWords('deliveries');
    expect(status).toBe(2);
    expect(err).toMatch(/"maxCrop"; the nearest known one is "maxCropPercent".*\[delivery-invalid\]/);
  });
});

describe('trundle deliveries', () => {
  it('lists every name with its figures, and says that no file is there', async () => {
    const { status, out, err } = await runWords('deliveries');
    expect(status).toBe(0);
    expect(err).toBe('');
    expect(out).toMatch(/^web HD +1920x1080 +5 % +3\.1 H +0\.83 px RMS +built in$/m);
    expect(out).toMatch(/^big screen +3996x2160 +3 % +1\.85 H +1 px RMS +built in$/m);
    expect(out).toContain('All built in.');
    expect(out).toContain(usual());
  });

  it('says which figures a file gives', async () => {
    const file = write({ phone: { maxCropPercent: 7 }, 'museum wall': { widthPx: 2560 } });
    const { out } = await runWords('deliveries');
    expect(out).toMatch(/^phone +1920x1080 +7 % +5 H +1\.3 px RMS +file$/m);
    expect(out).toMatch(/^museum wall +2560x1440 .* file$/m);
    expect(out).toMatch(/^web HD .* built in$/m);
    expect(out).toContain(`From ${file}, laid over the built-in ones.`);
  });

  it('prints them as JSON for scripts', async () => {
    const { out } = await runWords('deliveries', '--json');
    expect(JSON.parse(out)).toEqual(Object.keys(DELIVERY_PRESETS).map((name) => resolveDelivery({ name })));
  });

  it('writes the built-in ones to a file to edit, and never over one that is there', async () => {
    fs.rmSync(folder, { recursive: true });
    const first = await runWords('deliveries', '--write');
    expect(first).toEqual({ status: 0, out: '', err: `Deliveries: ${usual()}\n` });
    expect(JSON.parse(fs.readFileSync(usual(), 'utf8'))).toEqual(DELIVERY_PRESETS);
    fs.writeFileSync(usual(), '{}');
    const second = await runWords('deliveries', '--write');
    expect(second.status).toBe(2);
    expect(second.err).toMatch(/there already and is left as it is.*\[output-unwritable\]/);
    expect(fs.readFileSync(usual(), 'utf8')).toBe('{}');
    const named = path.join(folder, 'ours.json');
    expect((await runWords('deliveries', '--write', named)).status).toBe(0);
    expect(fs.existsSync(named)).toBe(true);
  });
});
