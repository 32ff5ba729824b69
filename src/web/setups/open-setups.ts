/** The setups that were measured with last, so that a form is filled with one press: `setups.json` in the data folder. */
import { createHash } from 'node:crypto';
import path from 'node:path';
import { SETTING_NAMES, typed, type SettingName } from '../../settings/index.js';
import type { SavedSetup, Settings } from '../api.js';
import type { WebContext } from '../server/context.js';
import { WebProblem } from '../server/problem.js';
import { setupName } from './setup-name.js';
import { setupsFile } from './setups-file.js';

/** So many are kept. */
export const MOST_SETUPS = 12;

/** What belongs to one pass and not to the next: a setup is kept without it. */
const OF_ONE_PASS: readonly SettingName[] = [
  'in',
  'out',
  'lane',
  'direction',
  'pass-number',
  'camera-roll',
  'slate',
  'take-number',
  'mark',
  'notes',
  'tags',
];
const KEPT = SETTING_NAMES.filter((name) => !OF_ONE_PASS.includes(name));

/** The last setups. */
export interface Setups {
  /**
   * Keeps what a measurement was asked with, in front of the others; what belongs to the one pass goes, and with nothing left nothing
   * is kept. The same setup again moves to the front, and the oldest beyond `MOST_SETUPS` goes.
   * @throws TrundleError `output-unwritable`: the measurement need not fail by it
   */
  remember(settings: Settings): Promise<void>;
  /** The newest first. */
  list(): Promise<readonly SavedSetup[]>;
  /** @throws WebProblem 404 `setup-unknown` */
  remove(id: string): Promise<void>;
}

/**
 * Opens the setups of the data folder.
 * @param now for the moment of use; the clock unless given
 */
export function openSetups(
  { dataDir, presets }: Pick<WebContext, 'dataDir' | 'presets'>,
  now: () => Date = () => new Date(),
): Promise<Setups> {
  const file = setupsFile(path.join(dataDir, 'setups.json'), now);
  let last: Promise<unknown> = Promise.resolve();
  /** One after another, so that no change is lost to another. */
  function inTurn<T>(work: () => Promise<T>): Promise<T> {
    const turn = last.then(work, work);
    last = turn.catch(() => undefined);
    return turn;
  }
  const read = async (): Promise<readonly SavedSetup[]> => (await file.read()) ?? [];
  return Promise.resolve({
    remember: (settings) =>
      inTurn(async () => {
        const kept = setupOf(settings);
        if (Object.keys(kept).length === 0) return;
        const id = idOf(kept);
        const setup = { id, name: setupName(kept, presets), usedAt: now().toISOString(), settings: kept };
        const others = (await read()).filter((other) => other.id !== id);
        await file.write(() => [setup, ...others].slice(0, MOST_SETUPS));
      }),
    list: () => inTurn(read),
    remove: (id) =>
      inTurn(async () => {
        const setups = await read();
        const left = setups.filter((setup) => setup.id !== id);
        if (left.length === setups.length)
          throw new WebProblem(404, 'setup-unknown', 'That setup is not kept any more.');
        await file.write(() => left);
      }),
  });
}

/** What is kept of settings: names in their order, words without blanks around them. */
function setupOf(settings: Settings): Settings {
  const words = KEPT.map((name) => [name, typed(settings, name)?.trim() ?? ''] as const);
  return Object.fromEntries(words.filter(([, text]) => text !== ''));
}

/** The same for the same setup. */
function idOf(settings: Settings): string {
  return createHash('sha256').update(JSON.stringify(settings)).digest('hex').slice(0, 16);
}
