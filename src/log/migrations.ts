/** The tables of the log, as steps from one version of the database to the next; each step is one transaction. */
import { TrundleError } from '../run/index.js';
import { DamagedError, type Database } from './database.js';
import { fillLimits } from './fill-limits.js';

/** Marks a database file as a log of this program: "Trun" in ASCII. */
export const APPLICATION_ID = 0x5472756e;

/** A step: statements, or what has to be worked out of the documents too. */
export type Migration = string | ((database: Database) => void);

/**
 * Step n leads from version n to n + 1. A step that was ever released is never edited.
 *
 * Figures stand in columns of their own so that listing reads no document; documents, series and pictures stand in a table of their
 * own so that listing reads past none of them.
 */
export const MIGRATIONS: readonly Migration[] = [
  `CREATE TABLE run (
     id INTEGER PRIMARY KEY AUTOINCREMENT,
     created_at TEXT NOT NULL,
     clip_file TEXT NOT NULL,
     clip_sha256 TEXT NOT NULL,
     range_start_s REAL NOT NULL,
     range_end_s REAL NOT NULL,
     production TEXT, unit TEXT, location TEXT, floor TEXT, lane TEXT, direction TEXT, setup TEXT, wheels TEXT, track TEXT,
     operator TEXT, pass_number INTEGER, roll TEXT, slate TEXT, take TEXT, mark TEXT, notes TEXT,
     speed_mps REAL, focal_length_mm REAL,
     delivery_name TEXT, delivery_width_px INTEGER NOT NULL, delivery_height_px INTEGER NOT NULL,
     grade TEXT NOT NULL,
     crop_percent REAL NOT NULL,
     coverable INTEGER NOT NULL,
     residual_px REAL,
     pan_rms_deg REAL, tilt_rms_deg REAL, roll_rms_deg REAL,
     surface_class TEXT,
     tool_version TEXT NOT NULL,
     document_schema TEXT NOT NULL,
     report_folder TEXT
   ) STRICT;
   CREATE INDEX run_by_time ON run (created_at);
   CREATE INDEX run_by_folder ON run (report_folder);
   CREATE TABLE tag (
     run_id INTEGER NOT NULL REFERENCES run (id) ON DELETE CASCADE,
     name TEXT NOT NULL,
     PRIMARY KEY (run_id, name)
   ) STRICT, WITHOUT ROWID;
   CREATE TABLE stored (
     run_id INTEGER PRIMARY KEY REFERENCES run (id) ON DELETE CASCADE,
     document BLOB NOT NULL,
     series BLOB,
     thumbnail BLOB,
     picture BLOB
   ) STRICT;`,
  fillLimits,
  // Documents that were kept before doubts had a name hold none.
  `ALTER TABLE run ADD COLUMN doubts TEXT NOT NULL DEFAULT '';`,
  // Of runs that were kept before settings had a key nothing tells whether they would be measured the same way: null.
  `ALTER TABLE run ADD COLUMN settings_key TEXT;
   CREATE INDEX run_by_clip ON run (clip_sha256, settings_key);`,
];

/** Where a database stands. */
export type Standing = 'empty' | 'ours';

/**
 * What kind of file this is; nothing is written.
 * @throws DamagedError for a database of somebody else; TrundleError `log-newer` for one of a later version of this program
 */
export function standingOf(database: Database, migrations = MIGRATIONS): Standing {
  const id = database.pragma('application_id');
  const version = database.pragma('user_version');
  if (id !== APPLICATION_ID) {
    const tables = Number(database.first('SELECT count(*) AS n FROM sqlite_schema')?.['n']);
    if (id === 0 && version === 0 && tables === 0) return 'empty';
    throw new DamagedError(`"${database.file}" is a database, but not a log of this program.`);
  }
  if (version > migrations.length)
    throw new TrundleError(
      'log-newer',
      `The log "${database.file}" was written by a newer version of this program (version ${version} of the log, this one reads up to ${migrations.length}); update this program, or choose another folder with --data-dir.`,
    );
  return 'ours';
}

/**
 * Brings the database to the version of this program, one step after the other. Two processes may do this at once: whoever comes second
 * finds the step done.
 * @throws as the database does
 */
export function migrate(database: Database, migrations = MIGRATIONS): void {
  while (database.pragma('user_version') < migrations.length)
    database.change(() => {
      const version = database.pragma('user_version');
      const step = migrations[version];
      if (step === undefined) return;
      if (typeof step === 'string') database.script(step);
      else step(database);
      database.script(`PRAGMA application_id = ${APPLICATION_ID}; PRAGMA user_version = ${version + 1};`);
    });
}
