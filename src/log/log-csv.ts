/** Rows of the log as CSV (RFC 4180, UTF-8): one line of names with their units, then one line per run, lines ended by CR LF. */
import { csvCell } from '../run/index.js';
import type { LogRow } from './types.js';

type Cell = string | number | boolean | null | undefined;

const COLUMNS: readonly (readonly [name: string, of: (row: LogRow) => Cell])[] = [
  ['id', (row) => row.id],
  ['createdAt', (row) => row.createdAt],
  ['production', (row) => row.pass.production],
  ['unit', (row) => row.pass.unit],
  ['location', (row) => row.pass.location],
  ['floor', (row) => row.pass.floor],
  ['lane', (row) => row.pass.lane],
  ['direction', (row) => row.pass.direction],
  ['setup', (row) => row.pass.setup],
  ['wheels', (row) => row.pass.wheels],
  ['track', (row) => row.pass.track],
  ['operator', (row) => row.pass.operator],
  ['passNumber', (row) => row.pass.passNumber],
  ['cameraRoll', (row) => row.pass.roll],
  ['slate', (row) => row.pass.slate],
  ['take', (row) => row.pass.take],
  ['mark', (row) => row.pass.mark],
  ['notes', (row) => row.pass.notes],
  ['tags', (row) => row.pass.tags?.join(' ; ')],
  ['clip', (row) => row.clipFile],
  ['clipSha256', (row) => row.clipSha256],
  ['rangeStartS', (row) => row.rangeS[0]],
  ['rangeEndS', (row) => row.rangeS[1]],
  ['speedMps', (row) => row.speedMps],
  ['focalLengthMm', (row) => row.focalLengthMm],
  ['delivery', (row) => row.delivery.name],
  ['deliveryWidthPx', (row) => row.delivery.widthPx],
  ['deliveryHeightPx', (row) => row.delivery.heightPx],
  ['maxCropPercent', (row) => row.delivery.maxCropPercent],
  ['maxResidualPx', (row) => row.delivery.maxResidualPx],
  ['grade', (row) => row.grade],
  ['doubts', (row) => row.doubts.join(' ; ')],
  ['cropPercent', (row) => row.cropPercent],
  ['coverable', (row) => row.coverable],
  ['residualPx', (row) => row.residualPx],
  ['panRmsDeg', (row) => row.panRmsDeg],
  ['tiltRmsDeg', (row) => row.tiltRmsDeg],
  ['rollRmsDeg', (row) => row.rollRmsDeg],
  ['surfaceClass', (row) => row.surfaceClass],
  ['toolVersion', (row) => row.toolVersion],
  ['reportFolder', (row) => row.reportFolder],
];

/** The whole file; an unknown value is an empty cell, numbers stand at full precision, text that begins like a formula is led by an apostrophe. */
export function logCsv(rows: readonly LogRow[]): string {
  const lines = [
    COLUMNS.map(([name]) => name),
    ...rows.map((row) => COLUMNS.map(([, of]) => csvCell(of(row)))),
  ];
  return lines.map((line) => `${line.join(',')}\r\n`).join('');
}
