-- The tables of the log as its version 1 made them. Logs like this are out there: never edited.
CREATE TABLE run (
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
) STRICT;
PRAGMA application_id = 1416787310;
PRAGMA user_version = 1;
