/**
 * The clips that were chosen and are not ordered yet: what each is at, its in and out, its settings. Module state, so that going to the
 * log and back loses nothing.
 */
import { computed, signal, type Signal } from '@preact/signals';
import type { SettingName } from '../../../settings/index.js';
import { clipTexts } from '../../../texts/index.js';
import type { About, ClipEntry, Settings } from '../../api.js';
import type { TypedStretch } from '../../stretch.js';
import { ofNextPass } from './clip-settings.js';
import type { UploadPace } from './upload-speed.js';

/** What a chosen clip is at. */
export type ClipState =
  | { readonly kind: 'waiting' }
  | { readonly kind: 'sending'; readonly sentBytes: number; readonly pace: UploadPace }
  /** The program reads what is in it. */
  | { readonly kind: 'opening' }
  | { readonly kind: 'ready'; readonly clip: ClipEntry }
  | { readonly kind: 'refused'; readonly detail: string };

/** A chosen clip. */
export interface BatchClip {
  /** Of its own, however often the same file is chosen. */
  readonly key: number;
  readonly name: string;
  readonly sizeBytes: number;
  readonly state: Signal<ClipState>;
  readonly stretch: Signal<TypedStretch>;
  /** Settings of the rig file that goes with it; null when there is none. */
  readonly rig: Signal<Settings | null>;
  /** What it does not share with the others: see `settingsFor`. */
  readonly own: Signal<Settings>;
  /** Why it could not be ordered; null when nothing speaks against it. */
  readonly orderFault: Signal<string | null>;
}

/** A clip that can be ordered. */
export interface ReadyClip extends BatchClip {
  readonly clip: ClipEntry;
}

/** The clips in the order they were chosen in. */
export const batch = signal<readonly BatchClip[]>([]);

/** Settings that all of them are measured with, where a clip has none of its own. */
export const sharedSettings = signal<Settings>({});

/** Those of them that stand there from the clips before, not touched since. */
export const keptFromLast = signal<readonly SettingName[]>([]);

const chosenKey = signal<number | null>(null);

/** Those that can be ordered. */
export const readyClips = computed<readonly ReadyClip[]>(() =>
  batch.value.flatMap((one) =>
    one.state.value.kind === 'ready' ? [{ ...one, clip: one.state.value.clip }] : [],
  ),
);

/** How many are still on the way. */
export const unfinished = computed(
  () =>
    batch.value.filter(({ state }) => ['waiting', 'sending', 'opening'].includes(state.value.kind)).length,
);

/** The one that is trimmed: the one that was selected last, else the first that is ready; null as long as none is. */
export const selectedClip = computed<ReadyClip | null>(
  () => readyClips.value.find(({ key }) => key === chosenKey.value) ?? readyClips.value.at(0) ?? null,
);

/** Selects a clip for trimming. */
export function select(key: number): void {
  chosenKey.value = key;
}

let lastKey = 0;

/** Adds a row. */
export function addRow(name: string, sizeBytes: number, state: ClipState): BatchClip {
  const row: BatchClip = {
    key: ++lastKey,
    name,
    sizeBytes,
    state: signal(state),
    stretch: signal<TypedStretch>({}),
    rig: signal<Settings | null>(null),
    own: signal<Settings>({}),
    orderFault: signal<string | null>(null),
  };
  batch.value = [...batch.value, row];
  return row;
}

/** Takes rows off; with the last of them, what is of this pass alone. */
export function dropRows(keys: readonly number[]): void {
  batch.value = batch.value.filter(({ key }) => !keys.includes(key));
  if (batch.value.length > 0) return;
  sharedSettings.value = ofNextPass(sharedSettings.value);
  keptFromLast.value = Object.keys(sharedSettings.value) as SettingName[];
}

/** The server can read it now; a rig file that was not dropped with it may lie beside it. */
export function setReady(row: BatchClip, clip: ClipEntry): void {
  if (row.rig.peek() === null && clip.rig !== null) giveRig(row, clip.rig);
  row.state.value = { kind: 'ready', clip };
}

/** Gives a clip a rig file: its values are the clip's own. */
export function giveRig(row: BatchClip, rig: Settings): void {
  row.rig.value = rig;
  row.own.value = { ...row.own.peek(), ...rig };
}

/** What speaks against a file before it is sent, in a sentence; null when nothing does. */
export function refusalOf(
  { name, size }: { readonly name: string; readonly size: number },
  { maxUploadBytes }: Pick<About, 'maxUploadBytes'>,
): string | null {
  if (size === 0) return clipTexts.empty(name);
  return size > maxUploadBytes ? clipTexts.tooLarge(name, maxUploadBytes) : null;
}
