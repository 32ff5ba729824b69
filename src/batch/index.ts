/** Measuring many clips: folders and what they hold, some at once in processes of their own, none twice. */
export { jobKey, settingsKey, settingsKeyOf, type JobSettings, type SettingsBesides } from './job-key.js';
export { listClips, sortPlaces, type ClipList } from './clip-list.js';
export { measureMany, type MeasureManyOptions, type MeasuredMany } from './measure-many.js';
export { MEASUREMENT_BYTES, fittingIn, layOut, thisMachine, type Layout, type Machine } from './at-once.js';
export { HowFar, type BatchState, type ClipUnderWay } from './how-far.js';
export {
  figuresIn,
  type BatchClip,
  type BatchResult,
  type BatchWatcher,
  type ClipOutcome,
  type KeptClip,
  type Running,
} from './batch.js';
export { figuresOf, type ClipFigures } from './clip-figures.js';
export { failureOf, workerDied, type ClipFailure } from './failure.js';
export { measureOne } from './measure-one.js';
export { startMeasuring } from './measure-process.js';
export { ReportPlaces } from './report-places.js';
export { entriesOf, fittingName, runMarksIn } from './report-folder.js';
export type { MeasureOrder, MeasuredClip } from './protocol.js';
