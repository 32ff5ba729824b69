/** Gives the list of the log the limits of each delivery, out of the documents that were kept before it had them. */
import type { Database } from './database.js';
import { unpack } from './packed.js';

/** A step from one version of the log to the next: two columns, null where a document does not tell. */
export function fillLimits(database: Database): void {
  database.script(
    'ALTER TABLE run ADD COLUMN max_crop_percent REAL; ALTER TABLE run ADD COLUMN max_residual_px REAL;',
  );
  for (const { run_id: id } of database.all('SELECT run_id FROM stored')) {
    const packed = database.first('SELECT document FROM stored WHERE run_id = ?', [id])?.['document'];
    const document = packed instanceof Uint8Array ? unpack(packed) : null;
    const limit = (name: string): number | null => numberAt(document, 'delivery', name);
    database.run('UPDATE run SET max_crop_percent = ?, max_residual_px = ? WHERE id = ?', [
      limit('maxCropPercent'),
      limit('maxResidualPx'),
      id,
    ]);
  }
}

/** What stands at a place of a document of any version; null where there is no number. */
function numberAt(document: unknown, ...path: readonly string[]): number | null {
  let value = document;
  for (const name of path)
    value = typeof value === 'object' && value !== null ? (value as Record<string, unknown>)[name] : null;
  return typeof value === 'number' ? value : null;
}
