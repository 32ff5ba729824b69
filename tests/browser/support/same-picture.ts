/** Compares a page as it looks with its stored picture; a look that was changed on purpose is stored anew with STORE_PICTURES=1. */
import fs from 'node:fs/promises';
import path from 'node:path';
import sharp from 'sharp';
import { expect } from 'vitest';

const STORED = path.resolve(import.meta.dirname, '../stored');
/** Where a picture that differs is left to be looked at; git leaves it alone. */
const SEEN = path.resolve(import.meta.dirname, '../../../.cache/pictures');

/** Pictures are kept at a quarter of their size: edges of letters differ from one browser build to the next, layout does not. */
const SCALE = 4;
/** Grey levels: a hairline that moves by less than a screen pixel changes a quarter-size pixel by less. */
const LEVELS = 40;
/** Share of pixels that may differ by more, a word or two of a page. */
const SHARE = 0.004;
/** Height may differ by a line of text. */
const LINE_PX = 24;

interface Raw {
  readonly data: Buffer;
  readonly width: number;
  readonly height: number;
}

/** Fails where the picture is not the stored one. @param png screenshot of a whole page */
export async function expectSamePicture(name: string, png: Buffer): Promise<void> {
  const { width = 0, height = 0 } = await sharp(png).metadata();
  const small = await sharp(png)
    .resize({
      width: Math.round(width / SCALE),
      height: Math.max(1, Math.round(height / SCALE)),
      fit: 'fill',
    })
    .greyscale()
    .png({ palette: true, colours: 16, effort: 10 })
    .toBuffer();
  const file = path.join(STORED, `${name}.png`);
  if (await isToBeStored(file)) {
    await fs.mkdir(STORED, { recursive: true });
    await fs.writeFile(file, small);
    return;
  }
  const [seen, stored] = await Promise.all([rawOf(small), rawOf(await fs.readFile(file))]);
  const share = shareThatDiffers(seen, stored);
  if (share <= SHARE && Math.abs(seen.height - stored.height) * SCALE <= LINE_PX) return;
  await fs.mkdir(SEEN, { recursive: true });
  await fs.writeFile(path.join(SEEN, `${name}.png`), png);
  expect.fail(
    `${name} looks different: ${(100 * share).toFixed(1)} % of it, ${(seen.height - stored.height) * SCALE} px longer. ` +
      `Look at .cache/pictures/${name}.png; when it is meant to be so, run the tests with STORE_PICTURES=1.`,
  );
}

/** Asked to, every picture is stored; one that was never stored is a fault otherwise. */
async function isToBeStored(file: string): Promise<boolean> {
  if (process.env['STORE_PICTURES']) return true;
  const there = await fs.access(file).then(
    () => true,
    () => false,
  );
  if (!there)
    expect.fail(`no picture is stored as ${path.basename(file)}; run the tests with STORE_PICTURES=1`);
  return false;
}

async function rawOf(png: Buffer): Promise<Raw> {
  const { data, info } = await sharp(png).greyscale().raw().toBuffer({ resolveWithObject: true });
  return { data, width: info.width, height: info.height };
}

/** Over the part that both have; a pixel counts when no pixel beside it in the other picture is alike. */
function shareThatDiffers(a: Raw, b: Raw): number {
  const width = Math.min(a.width, b.width);
  const height = Math.min(a.height, b.height);
  let count = 0;
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) if (differs(a, b, x, y) && differs(b, a, x, y)) count++;
  return count / Math.max(1, width * height);
}

function differs(a: Raw, b: Raw, x: number, y: number): boolean {
  const own = a.data[y * a.width + x];
  for (let v = Math.max(0, y - 1); v <= Math.min(b.height - 1, y + 1); v++)
    for (let u = Math.max(0, x - 1); u <= Math.min(b.width - 1, x + 1); u++)
      if (Math.abs(own - b.data[v * b.width + u]) <= LEVELS) return false;
  return true;
}
