/** Tells pictures and rows of pictures from clips: they hold no time stamps, so nothing can be said of frequencies or speeds. */
import { readdir } from 'node:fs/promises';
import path from 'node:path';
import { TrundleError } from '../run/index.js';
import { quoted } from './clip-path.js';

const PICTURE_NAME = /\.(jpe?g|png|tiff?|dpx|exr|bmp|webp|jp2|j2k|jxl|dng|tga|cin|heic|gif)$/i;
/** FFmpeg's readers of single pictures, alone or strung together. */
const PICTURE_READER = /^image2(pipe)?$|_pipe$/;
/** A place for a number in a name, as programs for rows of pictures write it. */
const NUMBERED = /%0?\d*d|\[\d+-\d+\]|#{2,}|\*/;

/** Whether FFmpeg's reader of this name reads pictures without time stamps. */
export function readsPictures(reader: string): boolean {
  return reader.split(',').some((name) => PICTURE_READER.test(name));
}

/** Whether a path stands for a row of pictures rather than for a file. */
export function namesPictureRow(file: string): boolean {
  return NUMBERED.test(path.basename(file)) && PICTURE_NAME.test(file);
}

/** Whether a folder holds a row of pictures: two and more, and more of them than of anything else. */
export async function holdsPictureRow(folder: string): Promise<boolean> {
  const names = await readdir(folder).catch(() => []);
  const pictures = names.filter((name) => PICTURE_NAME.test(name)).length;
  return pictures >= 2 && 2 * pictures > names.length;
}

/** The refusal of pictures, with what to do. */
export function picturesRefused(file: string, what: 'picture' | 'row'): TrundleError {
  const is = what === 'row' ? 'is a row of single pictures' : 'is a single picture, or pictures in a row';
  return new TrundleError(
    'clip-unsupported',
    `${quoted(file)} ${is}; pictures hold no time stamps, and shake cannot be measured without. Make a clip of them at the rate at which they were shot, for example with: ffmpeg -framerate 25 -i "name.%04d.png" -c:v ffv1 clip.mkv`,
  );
}
