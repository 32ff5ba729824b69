/** The log of runs: every measured pass, kept in an embedded database in the user's data folder. */
export { LOG_FILE, dataFolder, isInDataFolder, logFile } from './data-folder.js';
export { openLog, type OpenOptions } from './open-log.js';
export { FILTERS, NAME_FILTERS, parseLogQuery, queryOf, type LogQuery } from './query.js';
export { logCsv } from './log-csv.js';
export { setAside } from './set-aside.js';
export type { RunLog } from './run-log.js';
export type { Kept, LogEntry, LogOverview, LogRow, LoggedRun, SheetChange } from './types.js';
