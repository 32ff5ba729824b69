import fs from 'node:fs/promises';
import os from 'node:os';
import path from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import sharp from 'sharp';
import { RUN_FILES, checkRunFolder, encodePicture, jsonText, writeRun } from '../../src/report/index.js';
import { TrundleError, parseRun } from '../../src/run/index.js';
import { corridorPicture, madeUpBundle } from './support/made-up-bundle.js';

let root = '';
beforeEach(async () => {
  root = await fs.mkdtemp(path.join(os.tmpdir(), 'trundle-report-'));
});
afterEach(async () => {
  await fs.chmod(root, 0o755);
  await fs.rm(root, { recursive: true, force: true });
});

const bundle = madeUpBundle();
const small = { ...bundle, picture: corridorPicture(160, 90) };

async function list(folder: string): Promise<string[]> {
  return (await fs.readdir(folder)).sort();
}

async function failure(promise: Promise<unknown>): Promise<TrundleError> {
  try {
    await promise;
  } catch (error) {
    if (error instanceof TrundleError) return error;
    throw error;
  }
  throw new Error('expected a TrundleError');
}

describe('a run folder', () => {
  it('holds every file and nothing else, with a document that reads back the same', async () => {
    const folder = path.join(root, 'deep', 'er', 'pass 3');
    const { files, pdfFailure } = await writeRun(folder, small);
    expect(await list(folder)).toEqual([...RUN_FILES].sort());
    expect([...files].sort()).toEqual([...RUN_FILES].sort());
    expect(pdfFailure).toBeNull();
    expect(await list(path.dirname(folder))).toEqual(['pass 3']);
    expect(parseRun(JSON.parse(await fs.readFile(path.join(folder, 'run.json'), 'utf8')))).toEqual(small.run);
    const schema = JSON.parse(await fs.readFile(path.join(folder, 'trundle-run-1.schema.json'), 'utf8')) as {
      required: string[];
    };
    expect(schema.required).toContain('verdict');
    const series = JSON.parse(
      await fs.readFile(path.join(folder, 'trundle-series-1.schema.json'), 'utf8'),
    ) as { required: string[] };
    expect(series.required).toContain('motion');
    const { width, height, format } = await sharp(path.join(folder, 'crop.png')).metadata();
    expect([width, height, format]).toEqual([160, 90, 'png']);
  });

  it('is the same, byte for byte, when written twice', async () => {
    const [one, two] = [path.join(root, 'one'), path.join(root, 'two')];
    await writeRun(one, small);
    await writeRun(two, small);
    for (const file of RUN_FILES)
      expect((await fs.readFile(path.join(one, file))).equals(await fs.readFile(path.join(two, file)))).toBe(
        true,
      );
  });

  it('replaces an earlier run whole: files of the old one that are not written any more are gone', async () => {
    const folder = path.join(root, 'run');
    await writeRun(folder, small);
    await writeRun(folder, { ...small, picture: null });
    expect(await list(folder)).toEqual(RUN_FILES.filter((file) => !/frame|crop/.test(file)).sort());
    expect(await list(root)).toEqual(['run']);
  });

  it('keeps the answer to a question when the report is written anew, and takes it away with the run that it was asked of', async () => {
    const folder = path.join(root, 'run');
    await writeRun(folder, small);
    await fs.writeFile(path.join(folder, 'whatif.html'), 'an answer');
    await writeRun(folder, small);
    expect(await fs.readFile(path.join(folder, 'whatif.html'), 'utf8')).toBe('an answer');
    const createdAt = '2031-03-15T09:26:53.000Z';
    await writeRun(folder, {
      ...small,
      run: { ...small.run, createdAt },
      series: { ...small.series, createdAt },
    });
    expect(await list(folder)).toEqual([...RUN_FILES].sort());
  });

  it('takes a PDF away that was not asked for again: it would tell of an earlier page', async () => {
    const folder = path.join(root, 'run');
    await writeRun(folder, small);
    await fs.writeFile(path.join(folder, 'report.pdf'), 'an earlier one');
    await writeRun(folder, small);
    expect(await list(folder)).toEqual([...RUN_FILES].sort());
  });

  it('stands without its PDF where no browser starts, and says so in one sentence', async () => {
    const folder = path.join(root, 'run');
    const environment = { TRUNDLE_CHROMIUM: path.join(root, 'no-such-browser') };
    const { files, pdfFailure } = await writeRun(folder, small, { pdf: 'a4', environment });
    expect(await list(folder)).toEqual([...RUN_FILES].sort());
    expect([...files].sort()).toEqual([...RUN_FILES].sort());
    expect(pdfFailure?.code).toBe('no-browser');
    expect(pdfFailure?.message).toMatch(
      /^No PDF was written, since no browser starts here \(TRUNDLE_CHROMIUM=.*no-such-browser: .+\); .*; or print the page \(.html\) from any browser\.$/,
    );
  });

  it('keeps files of other people that live in the folder of an earlier run', async () => {
    const folder = path.join(root, 'run');
    await writeRun(folder, small);
    await fs.writeFile(path.join(folder, 'notes.txt'), 'wheels swapped');
    await writeRun(folder, { ...small, picture: null });
    expect(await fs.readFile(path.join(folder, 'notes.txt'), 'utf8')).toBe('wheels swapped');
    expect(await list(folder)).not.toContain('frame.jpg');
    expect(await list(root)).toEqual(['run']);
  });

  it('writes into a folder that has nothing of ours, and leaves what is there', async () => {
    await fs.writeFile(path.join(root, 'rushes.txt'), 'keep');
    await writeRun(root, small);
    expect(await list(root)).toEqual([...RUN_FILES, 'rushes.txt'].sort());
  });

  it('refuses a folder where one of our names belongs to somebody else', async () => {
    await fs.writeFile(path.join(root, 'report.html'), 'a report of another kind');
    const error = await failure(writeRun(root, small));
    expect(error.code).toBe('output-unwritable');
    expect(error.message).toContain('report.html');
    expect(await list(root)).toEqual(['report.html']);
  });

  it('can be asked beforehand, and is left as it was', async () => {
    await fs.writeFile(path.join(root, 'pass'), 'a file');
    await checkRunFolder(path.join(root, 'not', 'there', 'yet'));
    for (const folder of [path.join(root, 'pass'), path.join(root, 'pass', 'inside')])
      expect((await failure(checkRunFolder(folder))).code).toBe('output-unwritable');
    expect(await list(root)).toEqual(['pass']);
  });

  it('says so in one sentence when a file is in the way, and leaves nothing behind', async () => {
    await fs.writeFile(path.join(root, 'pass'), 'a file');
    for (const folder of [path.join(root, 'pass'), path.join(root, 'pass', 'inside')]) {
      const error = await failure(writeRun(folder, small));
      expect(error.code).toBe('output-unwritable');
      expect(error.message).toMatch(
        /^The folder ".*" cannot be written \(.+\); choose another with --out-dir\.$/,
      );
    }
    expect(await list(root)).toEqual(['pass']);
  });

  it('writes nothing when the document does not fit its schema', async () => {
    const broken = { ...small, run: { ...small.run, createdAt: 7 as unknown as string } };
    await expect(writeRun(path.join(root, 'run'), broken)).rejects.toThrow();
    expect(await list(root)).toEqual([]);
  });
});

describe('JSON text', () => {
  it('puts a series on one line and leaves strings alone', () => {
    const value = { psd: [1, 2.5e-7, null], name: '[ 1,  2 ]', mixed: [1, 'a'] };
    const text = jsonText(value);
    expect(text).toContain('"psd": [1, 2.5e-7, null]');
    expect(JSON.parse(text)).toEqual(value);
  });
});

describe('pictures', () => {
  it('come out at their size and close to their colours', async () => {
    const picture = corridorPicture(64, 36);
    const { data, info } = await sharp(await encodePicture(picture))
      .raw()
      .toBuffer({ resolveWithObject: true });
    expect([info.width, info.height, info.channels]).toEqual([64, 36, 3]);
    const off = data.reduce((sum, value, i) => sum + Math.abs(value - picture.rgb[i]), 0) / data.length;
    // JPEG at quality 82 on a picture of hard edges: a few grey levels on average.
    expect(off).toBeLessThan(5);
    const exact = await sharp(await encodePicture(picture, 'png'))
      .raw()
      .toBuffer();
    expect(exact.equals(Buffer.from(picture.rgb))).toBe(true);
  });

  it('refuse bytes that do not belong to the size', async () => {
    await expect(encodePicture({ widthPx: 4, heightPx: 4, rgb: new Uint8Array(5) })).rejects.toThrow(
      RangeError,
    );
  });
});
