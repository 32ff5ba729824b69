/** How a run document and its sheet stand in the columns of the log, and back. */
import { RUN_SCHEMA, passSheetSchema, type PassSheet, type RunDocument } from '../run/index.js';
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

/** The columns of table `run` for an entry; every column but the id. */
export function columnsOf({ run, reportFolder }: LogEntry): Record<string, Value> {
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
    grade: verdict.grade,
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
  };
}

/** The columns of a sheet; null for what was not written. */
export function sheetColumns(sheet: PassSheet): Record<string, Value> {
  return Object.fromEntries(
    Object.entries(SHEET_COLUMNS).map(([name, column]) => [
      column,
      sheet[name as keyof typeof SHEET_COLUMNS] ?? null,
    ]),
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
    },
    grade: row['grade'] as RunDocument['verdict']['grade'],
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

function sheetOf(row: Row): PassSheet {
  const written = Object.entries(SHEET_COLUMNS)
    .map(([name, column]) => [name, row[column]] as const)
    .filter(([, value]) => value !== null);
  const tags = JSON.parse(String(row['tags'])) as string[];
  return passSheetSchema.parse({
    ...Object.fromEntries(written),
    ...(tags.length > 0 && { tags: tags.sort() }),
  });
}
