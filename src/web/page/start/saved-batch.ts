/** What of a batch outlives a reload, as text and back; a text that is no such thing is as none. */
import type { Settings } from '../../api.js';

/** A clip that the server knows, with its trim and settings. */
export interface SavedClip {
  readonly id: string;
  readonly name: string;
  readonly sizeBytes: number;
  readonly stretch: Settings;
  readonly own: Settings;
  readonly rig: Settings | null;
}

/** Everything that is kept. */
export interface SavedBatch {
  readonly clips: readonly SavedClip[];
  readonly shared: Settings;
  /** Names of settings that stand there from the clips before. */
  readonly kept: readonly string[];
  /** Place of the selected clip; null when none is. */
  readonly selected: number | null;
}

/** Reads it. @returns null when nothing, or nothing that can be read, was kept */
export function savedBatchIn(text: string | null): SavedBatch | null {
  if (text === null) return null;
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    return null;
  }
  if (!isRecord(value) || !Array.isArray(value['clips']) || !isTexts(value['shared'])) return null;
  const { clips, shared, kept, selected } = value;
  const known = (clips as readonly unknown[]).filter(isSavedClip);
  return {
    clips: known,
    shared,
    kept: Array.isArray(kept) ? kept.filter((name) => typeof name === 'string' && name in shared) : [],
    selected: typeof selected === 'number' && Number.isInteger(selected) && selected >= 0 ? selected : null,
  };
}

function isSavedClip(value: unknown): value is SavedClip {
  if (!isRecord(value)) return false;
  const { id, name, sizeBytes, stretch, own, rig } = value;
  return (
    typeof id === 'string' &&
    typeof name === 'string' &&
    typeof sizeBytes === 'number' &&
    isTexts(stretch) &&
    isTexts(own) &&
    (rig === null || isTexts(rig))
  );
}

function isTexts(value: unknown): value is Settings {
  return isRecord(value) && Object.values(value).every((text) => typeof text === 'string');
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
