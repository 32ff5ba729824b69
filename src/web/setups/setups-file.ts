/** The file of saved setups. */
import { SETTING_NAMES } from '../../settings/index.js';
import type { SavedSetup } from '../api.js';
import { KeptFile, isRecord } from '../kept-file.js';

const FORMAT = 'trundle-setups';
const VERSION = 1;

/** The file at this place, the newest setup first; none that can be read is null. @param now for the name of a damaged one */
export function setupsFile(file: string, now: () => Date): KeptFile<readonly SavedSetup[]> {
  return new KeptFile<readonly SavedSetup[]>(file, {
    now,
    valueIn: ({ format, version, setups }) =>
      format === FORMAT && version === VERSION && Array.isArray(setups) && setups.every(isSetup)
        ? setups
        : null,
    jsonOf: (setups) => ({ format: FORMAT, version: VERSION, setups }),
  });
}

function isSetup(value: unknown): value is SavedSetup {
  if (!isRecord(value)) return false;
  const { id, name, usedAt, settings } = value;
  const known: readonly string[] = SETTING_NAMES;
  return (
    [id, name, usedAt].every((word) => typeof word === 'string') &&
    isRecord(settings) &&
    Object.entries(settings).every(([key, typed]) => known.includes(key) && typeof typed === 'string')
  );
}
