/** Sentences about clips on the local page: taking them, finding them again, showing their frames. */
const WANTED = 'choose a clip as the camera wrote it, such as MP4, MOV, MXF, MKV or AVI';

/** What a file seems to be, by its first bytes. */
const SEEMS = {
  picture: 'a picture',
  pdf: 'a PDF',
  archive: 'an archive',
  sound: 'a sound file',
  document: 'an office document',
  program: 'a program',
  webPage: 'a web page',
  text: 'a text',
} as const;

/** A size as people read it: decimal units, as disks and cards state them. */
function size(bytes: number): string {
  const units = ['bytes', 'kB', 'MB', 'GB', 'TB'];
  const step = Math.min(units.length - 1, Math.max(0, Math.floor(Math.log10(Math.max(1, bytes)) / 3)));
  const value = bytes / 1000 ** step;
  return `${step === 0 || value >= 100 ? Math.round(value) : value.toFixed(1).replace(/\.0$/, '')} ${units[step]}`;
}

/** Sentences about clips. */
export const clipTexts = {
  seems: (name: string, is: keyof typeof SEEMS): string => `"${name}" seems to be ${SEEMS[is]}; ${WANTED}.`,
  seemsNothing: (name: string): string => `"${name}" is no kind of clip that is known here; ${WANTED}.`,
  empty: (name: string): string => `"${name}" is empty; copy it again from the card.`,
  onePicture: (name: string): string => `"${name}" holds one picture only; ${WANTED}.`,
  tooLarge: (name: string, mostBytes: number): string =>
    `"${name}" is larger than ${size(mostBytes)}, the most that is taken by the page; put it into a folder that the server may read, or export the test pass alone.`,
  broken: (name: string): string => `"${name}" did not arrive whole; send it again.`,
  noBody: 'No file came with this request; choose a clip and send it again.',
  noRoom: (name: string, freeBytes: number | null): string =>
    `There is no room for "${name}" on the disk of the server${freeBytes === null ? '' : `: ${size(freeBytes)} are free`}; remove runs or files, then send it again.`,
  unwritable: (name: string): string =>
    `"${name}" could not be written to the data folder; check that the folder may be written to.`,
  unremovable: (name: string): string =>
    `The copy of "${name}" could not be removed from the data folder; check that the folder may be written to.`,
  unknown: 'This clip is not known here any more; choose it again.',
  gone: (name: string): string => `"${name}" is not where it was; put it back, or choose it again.`,
  changed: (name: string): string => `"${name}" has changed since it was chosen; choose it again.`,
  busy: (name: string): string => `"${name}" is being measured; stop the measurement first.`,
  folderUnknown: 'This folder is not among those that the server may read.',
  pathOutside: 'This path leads out of the folders that the server may read.',
  folderMissing: (path: string): string => `There is no folder "${path}" here any more.`,
  folderUnreadable: (path: string): string =>
    `The folder "${path}" may not be looked into; check its permissions.`,
  fileMissing: (path: string): string => `There is no file "${path}" in this folder any more.`,
  fileUnreadable: (path: string): string => `The file "${path}" may not be opened; check its permissions.`,
  orderFromFolder: 'A clip of a folder is named by "folder" and "path", both texts.',
  orderClip: 'The clip of a run is named by "clip", a text.',
  moment: 'The moment "at" must be seconds from the start of the clip, 0 or more.',
  width: 'The width must be a whole number of px.',
  posterUnknown: 'There is no such poster of this clip.',
  runUnknown: 'Runs are named by their number in the log.',
  frameUnknown: 'There is no such frame yet.',
  missing: (name: string): string =>
    `The clip "${name}" is not known here; choose it, and its frames can be played.`,
  otherClip: (chosen: string, measured: string): string =>
    `"${chosen}" is another file than "${measured}", the one that was measured; choose that one.`,
  framesFailed: (name: string): string =>
    `The frames of "${name}" could not be decoded; play the clip to check it.`,
  framesNoRoom: 'There is no room on the disk for small frames; make some and ask again.',
  stopped: 'The server was closed while the frames were made.',
} as const;
