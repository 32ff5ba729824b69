/** Begins the first screen with a clip that the server knows and the settings of an earlier measurement. */
import type { ClipEntry, Settings } from '../../api.js';
import { getJson } from '../api-client.js';
import { go } from '../router.js';
import { addRow, select } from './batch.js';
import { setExactly } from './batch-settings.js';
import { keepBatch } from './kept-batch.js';

/**
 * Adds the clip, fills in the settings and goes there; in and out are those of the settings.
 *
 * @param clipId of a clip of the server
 * @throws ProblemError when the clip is not there any more
 */
export async function startWith(clipId: string, settings: Settings): Promise<void> {
  keepBatch();
  const clip = await getJson<ClipEntry>(`/api/clips/${clipId}`);
  const { in: inPoint, out: outPoint, ...others } = settings;
  const row = addRow(clip.name, clip.sizeBytes, { kind: 'ready', clip });
  row.stretch.value = {
    ...(inPoint !== undefined && { in: inPoint }),
    ...(outPoint !== undefined && { out: outPoint }),
  };
  row.rig.value = clip.rig;
  setExactly(row, others);
  select(row.key);
  go('/');
}
