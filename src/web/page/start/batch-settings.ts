/** The form of a batch: what it shows for a clip, and where that goes which is typed into it. */
import { batch as signalBatch, signal } from '@preact/signals';
import type { SettingName, Settings } from '../../../settings/index.js';
import { batch, keptFromLast, sharedSettings, type BatchClip } from './batch.js';
import {
  cleared,
  settingsFor,
  withExactly,
  withSetupFor,
  withTyped,
  type BatchSettings,
} from './clip-settings.js';

/** Whether what is typed goes to all clips, or to the selected one alone. */
export const typesForAll = signal(true);

/** The settings that a clip is measured with. */
export function settingsOfClip({ own }: Pick<BatchClip, 'own'>): Settings {
  return settingsFor(sharedSettings.value, own.value);
}

/** A field was typed while this clip was selected. */
export function typeSetting(row: BatchClip, name: SettingName, text: string): void {
  keptFromLast.value = keptFromLast.peek().filter((kept) => kept !== name);
  change((settings, place) => withTyped(settings, scopeOf(place), name, text), row);
}

/** A setup used before was taken. */
export function takeSetup(row: BatchClip, setup: Settings): void {
  keptFromLast.value = [];
  change((settings, place) => withSetupFor(settings, scopeOf(place), setup), row);
}

/** The form was cleared. */
export function clearSettings(row: BatchClip): void {
  keptFromLast.value = [];
  change((settings, place) => cleared(settings, scopeOf(place)), row);
}

/** The clip is measured by exactly these. */
export function setExactly(row: BatchClip, settings: Settings): void {
  change((all, place) => withExactly(all, place, settings), row);
}

function scopeOf(place: number): 'all' | number {
  return typesForAll.peek() || batch.peek().length === 1 ? 'all' : place;
}

function change(how: (settings: BatchSettings, place: number) => BatchSettings, row: BatchClip): void {
  const rows = batch.peek();
  const place = rows.findIndex(({ key }) => key === row.key);
  if (place < 0) return;
  const next = how({ shared: sharedSettings.peek(), own: rows.map(({ own }) => own.peek()) }, place);
  signalBatch(() => {
    sharedSettings.value = next.shared;
    rows.forEach(({ own }, i) => (own.value = next.own[i]));
  });
}
