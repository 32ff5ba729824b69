/** Gives the picture engine the fonts that come with the program, so that pictures hold the same letters on every machine. */
import { createRequire } from 'node:module';
import fs from 'node:fs/promises';
import os from 'node:os';
import path from 'node:path';
import { escapeText } from '../charts/index.js';

/** The family that pictures are written in. */
export const PICTURE_FONT = 'DejaVu Sans Condensed';

const SETTING = 'FONTCONFIG_FILE';
let ready: Promise<void> | undefined;

/**
 * Makes sure that text in pictures is drawn with our fonts. Must be awaited before the first picture with text in a process; later calls
 * cost nothing.
 *
 * The engine reads which fonts there are once, at the first text, from the file that FONTCONFIG_FILE names. So a text is drawn at once
 * and the environment put back: a browser started later finds the fonts of the machine. A setting made by hand is left alone.
 */
export function useOwnFonts(): Promise<void> {
  ready ??= readFonts();
  return ready;
}

async function readFonts(): Promise<void> {
  if (process.env[SETTING]) return;
  const fonts = path.join(
    path.dirname(createRequire(import.meta.url).resolve('dejavu-fonts-ttf/package.json')),
    'ttf',
  );
  const folder = await fs.mkdtemp(path.join(os.tmpdir(), 'trundle-fonts-'));
  try {
    const file = path.join(folder, 'fonts.conf');
    await fs.writeFile(
      file,
      `<?xml version="1.0"?>\n<!DOCTYPE fontconfig SYSTEM "fonts.dtd">\n<fontconfig><dir>${escapeText(fonts)}</dir><cachedir>${escapeText(folder)}</cachedir></fontconfig>\n`,
    );
    process.env[SETTING] = file;
    const { default: sharp } = await import('sharp');
    const text = `<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><text y="9" font-family="${PICTURE_FONT}">x</text></svg>`;
    await sharp(Buffer.from(text)).raw().toBuffer();
  } finally {
    delete process.env[SETTING];
    await fs.rm(folder, { recursive: true, force: true });
  }
}
