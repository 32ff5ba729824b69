/** Files and folders that are whole or not there: names for what is unfinished, clearing of what a crash left, holds, and the way to the disk. */
export { folderName } from './folder-name.js';
export { holdPlace, holdPlaceNow, type Hold } from './hold-place.js';
export { isInside } from './inside.js';
export { syncFile, syncFolder, writeToDisk } from './on-disk.js';
export {
  asideOf,
  clearLeft,
  holdOf,
  movingInOf,
  unfinishedFile,
  unfinishedFolder,
  type Unfinished,
} from './unfinished.js';
export { clearParts, PART, writeWhole } from './write-whole.js';
