/** Names of folders that are made for clips: safe on every system, and still readable. */

/** Longest name, bytes of UTF-8: file systems take 255, and files beside the folder are named after it. */
const LONGEST_BYTES = 180;
/** Names that Windows keeps for devices. */
const DEVICES = /^(con|prn|aux|nul|com\d|lpt\d)$/i;

/**
 * A name for a folder out of that of a clip: letters and figures of any script, blanks, dots, dashes and underscores inside; its ending goes.
 * @example folderName('../Flur 2/pass.mov') // "Flur 2-pass"
 */
export function folderName(clipName: string): string {
  const words = clipName
    .normalize('NFC')
    .replace(/\.[\p{L}\p{N}]{1,5}$/u, '')
    .replace(/[^\p{L}\p{M}\p{N} ._-]+/gu, '-');
  let name = trimmed(words);
  while (Buffer.byteLength(name) > LONGEST_BYTES) name = trimmed([...name].slice(0, -1).join(''));
  if (name === '') return 'clip';
  return DEVICES.test(name) ? `${name}-clip` : name;
}

function trimmed(name: string): string {
  return name.replace(/^[\p{M} ._-]+|[ ._-]+$/gu, '');
}
