/** Names of clips: for people as the file was called, on the disk in a form that means nothing to a shell or a file system. */

/** Longest name for people, characters. */
const LONGEST_NAME = 200;
/** Longest name on the disk, bytes of UTF-8; file systems take 255. */
const LONGEST_STORED_BYTES = 120;
/** Names that Windows keeps for devices, with or without an ending. */
const DEVICES = /^(con|prn|aux|nul|com\d|lpt\d)$/i;
/** The name as people see it: last part of a path, no control or direction characters, at most 200 characters; "clip" when nothing is left. */
export function shownName(given: string): string {
  const last = given.split(/[/\\]/).at(-1) ?? '';
  const clean = last
    .normalize('NFC')
    .replace(/[\p{Cc}\p{Cf}\p{Cs}\p{Zl}\p{Zp}]/gu, '')
    .trim();
  const [stem, ending] = cutEnding(clean);
  const room = LONGEST_NAME - [...ending].length;
  const kept = [...stem].slice(0, room).join('');
  return kept + ending || 'clip';
}

/** The name on the disk: letters and figures of any script, dots, underscores and dashes inside; never hidden, never an option. */
export function storedName(name: string): string {
  const [stem, ending] = cutEnding(shownName(name));
  const safe = (text: string) => text.replace(/[^\p{L}\p{N}\p{M}._-]+/gu, '_');
  let kept = safe(stem).replace(/^[._-]+|[._-]+$/g, '');
  while (Buffer.byteLength(kept) > LONGEST_STORED_BYTES) kept = [...kept].slice(0, -1).join('');
  if (kept === '' || DEVICES.test(kept.split('.')[0])) kept = `clip${kept === '' ? '' : `-${kept}`}`;
  return kept + safe(ending);
}

/** Stem and ending with its dot; endings are up to eight plain letters and figures. */
function cutEnding(name: string): [stem: string, ending: string] {
  const [ending = ''] = /(?<=.)\.[A-Za-z0-9]{1,8}$/s.exec(name) ?? [];
  return [name.slice(0, name.length - ending.length), ending];
}

/** The name of the rig file of a clip: NAME.rig.json. */
export function rigName(clip: string): string {
  return `${cutEnding(clip)[0]}.rig.json`;
}
