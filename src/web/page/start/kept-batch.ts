/** Clips, trims and form across a reload of the tab: kept with it, brought back where the server still knows the clips. */
import { effect } from '@preact/signals';
import type { SettingName } from '../../../settings/index.js';
import type { ClipEntry } from '../../api.js';
import { getJson, problemOf } from '../api-client.js';
import {
  addRow,
  batch,
  dropRows,
  keptFromLast,
  select,
  selectedClip,
  setReady,
  sharedSettings,
  type BatchClip,
} from './batch.js';
import { savedBatchIn, type SavedBatch, type SavedClip } from './saved-batch.js';

const NAME = 'trundle-new-pass';

/** Of clips that the server has been asked about and has not answered. */
const askedFor = new Map<number, string>();
let isKeeping = false;

/** Brings back what was kept, once, and keeps from then on what changes. */
export function keepBatch(): void {
  if (isKeeping) return;
  isKeeping = true;
  const saved = savedBatchIn(read());
  if (saved !== null && batch.peek().length === 0) bringBack(saved);
  effect(() => write(asSaved()));
}

function bringBack({ clips, shared, kept, selected }: SavedBatch): void {
  sharedSettings.value = shared;
  const rows = clips.map(bringBackClip);
  keptFromLast.value = kept as readonly SettingName[];
  const row = selected === null ? undefined : rows.at(selected);
  if (row !== undefined) select(row.key);
}

function bringBackClip({ id, name, sizeBytes, stretch, own, rig }: SavedClip): BatchClip {
  const row = addRow(name, sizeBytes, { kind: 'opening' });
  row.stretch.value = stretch;
  row.rig.value = rig;
  row.own.value = own;
  askedFor.set(row.key, id);
  getJson<ClipEntry>(`/api/clips/${encodeURIComponent(id)}`).then(
    (clip) => {
      // A rig file that came to lie beside it meanwhile would change what was typed.
      if (batch.peek().some(({ key }) => key === row.key)) setReady(row, { ...clip, rig: rig ?? clip.rig });
    },
    (error: unknown) => {
      const { status, detail } = problemOf(error);
      // What the server does not know any more, nobody can bring back.
      if (status === 404) dropRows([row.key]);
      else row.state.value = { kind: 'refused', detail };
    },
  );
  return row;
}

function asSaved(): SavedBatch {
  const rows = batch.value.flatMap((row) => {
    const state = row.state.value;
    const id = state.kind === 'ready' ? state.clip.id : askedFor.get(row.key);
    if (id === undefined) return [];
    const { key, name, sizeBytes, stretch, own, rig } = row;
    return [
      { key, clip: { id, name, sizeBytes, stretch: { ...stretch.value }, own: own.value, rig: rig.value } },
    ];
  });
  const selected = rows.findIndex(({ key }) => key === selectedClip.value?.key);
  return {
    clips: rows.map(({ clip }) => clip),
    shared: sharedSettings.value,
    kept: keptFromLast.value,
    selected: selected < 0 ? null : selected,
  };
}

/** Browsers may keep the storage of a tab shut away: then nothing is kept. */
function read(): string | null {
  try {
    return sessionStorage.getItem(NAME);
  } catch {
    return null;
  }
}

function write(saved: SavedBatch): void {
  try {
    sessionStorage.setItem(NAME, JSON.stringify(saved));
  } catch {
    // Full or shut away: the page works without.
  }
}
