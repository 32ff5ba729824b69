/** How a run document and its sheet stand in the columns of the log, and back. */
import { RUN_SCHEMA, doubtsAmong, type PassSheet, type RunDocument } from '../run/index.js';
import type { Row, Value } from './database.js';
import type { LogEntry, LogRow } from './types.js';

/** The entries of the sheet that stand in a column each. */
export const SHEET_COLUMNS: { readonly [Name in keyof Omit<PassSheet, 'tags'>]-?: string } = {
  production: 'production',
  unit: 'unit',
  location: 'location',
  floor: 'floor',
  lane: 'lane',
  direction: 'direction',
  setup: 'setup',
  wheels: 'wheels',
  track: 'track',
  operator: 'operator',
  passNumber: 'pass_number',
  roll: 'roll',
  slate: 'slate',
  take: 'take',
  mark: 'mark',
  notes: 'notes',
};

const SHEET_ENTRIES = Object.entries(SHEET_COLUMNS);

/** The columns of table `run` for an entry; every column but the id. */
export function columnsOf({ run, reportFolder, settingsKey = null }: LogEntry): Record<string, Value> {
  const { clip, rig, delivery, motion, stabilise, surface, verdict } = run;
  return {
    created_at: run.createdAt,
    clip_file: clip.file,
    clip_sha256: clip.sha256,
    range_start_s: clip.rangeS[0],
    range_end_s: clip.rangeS[1],
    ...sheetColumns(run.pass),
    speed_mps: rig.speedMps ?? null,
    focal_length_mm: rig.focalLengthMm ?? null,
    delivery_name: delivery.name,
    delivery_width_px: delivery.widthPx,
    delivery_height_px: delivery.heightPx,
    max_crop_percent: delivery.maxCropPercent,
    max_residual_px: delivery.maxResidualPx,
    grade: verdict.grade,
    doubts: doubtsAmong(run.warnings)
      .map(({ code }) => code)
      .join(' '),
    crop_percent: stabilise.cropPercent,
    coverable: stabilise.coverable ? 1 : 0,
    residual_px: stabilise.residual.total?.rmsPx ?? null,
    pan_rms_deg: motion.angular.pan.rmsDeg,
    tilt_rms_deg: motion.angular.tilt.rmsDeg,
    roll_rms_deg: motion.angular.roll.rmsDeg,
    surface_class: surface.isoClass,
    tool_version: run.tool.version,
    document_schema: run.schema,
    report_folder: reportFolder,
    settings_key: settingsKey,
  };
}

/** The columns of a sheet; null for what was not written. */
export function sheetColumns(sheet: PassSheet): Record<string, Value> {
  return Object.fromEntries(
    SHEET_ENTRIES.map(([name, column]) => [column, sheet[name as keyof typeof SHEET_COLUMNS] ?? null]),
  );
}

/** A row of the list from its columns, its tags as a JSON array of strings in `tags`, and `has_series`. */
export function rowOf(row: Row): LogRow {
  const number = (name: string): number | null => row[name] as number | null;
  return {
    id: Number(row['id']),
    createdAt: String(row['created_at']),
    clipFile: String(row['clip_file']),
    clipSha256: String(row['clip_sha256']),
    rangeS: [Number(row['range_start_s']), Number(row['range_end_s'])],
    pass: sheetOf(row),
    speedMps: number('speed_mps'),
    focalLengthMm: number('focal_length_mm'),
    delivery: {
      name: row['delivery_name'] as string | null,
      widthPx: Number(row['delivery_width_px']),
      heightPx: Number(row['delivery_height_px']),
      maxCropPercent: number('max_crop_percent'),
      maxResidualPx: number('max_residual_px'),
    },
    grade: row['grade'] as RunDocument['verdict']['grade'],
    doubts: String(row['doubts'])
      .split(' ')
      .filter((code) => code !== ''),
    cropPercent: Number(row['crop_percent']),
    coverable: row['coverable'] === 1,
    residualPx: number('residual_px'),
    panRmsDeg: number('pan_rms_deg'),
    tiltRmsDeg: number('tilt_rms_deg'),
    rollRmsDeg: number('roll_rms_deg'),
    surfaceClass: row['surface_class'] as string | null,
    toolVersion: String(row['tool_version']),
    readable: row['document_schema'] === RUN_SCHEMA,
    reportFolder: row['report_folder'] as string | null,
    hasSeries: row['has_series'] === 1,
  };
}

/** Checked when it was written: listing thousands of runs does not check it again. */
function sheetOf(row: Row): PassSheet {
  const sheet: Record<string, unknown> = {};
  for (const [name, column] of SHEET_ENTRIES) if (row[column] !== null) sheet[name] = row[column];
  const tags = JSON.parse(String(row['tags'])) as string[];
  if (tags.length > 0) sheet['tags'] = tags.sort();
  return sheet;
}
