/** What was written on a sheet and not saved: kept with the tab, so that going back, a reload or a closed dialog costs no word. */
import type { PassSheet } from '../../../run/index.js';
import { fieldsOf, type SheetFields } from './sheet-change.js';

/** Fields that were written over, as typed. */
export type SheetDraft = Partial<SheetFields>;

/** Fields that differ from the sheet; null when none does. What others change meanwhile in the rest is not touched by it. */
export function draftOf(pass: PassSheet, typed: SheetFields): SheetDraft | null {
  const before = fieldsOf(pass);
  const names = Object.keys(before) as (keyof SheetFields)[];
  const changed = names.filter((name) => typed[name].trim() !== before[name]);
  return changed.length === 0 ? null : Object.fromEntries(changed.map((name) => [name, typed[name]]));
}

/** The fields of a sheet with a draft written over them. */
export function withDraft(pass: PassSheet, draft: SheetDraft | null): SheetFields {
  return { ...fieldsOf(pass), ...draft };
}

/** Reads a draft; a text that is none is as none. */
export function draftIn(text: string | null): SheetDraft | null {
  try {
    const value: unknown = JSON.parse(text ?? 'null');
    if (typeof value !== 'object' || value === null) return null;
    const known = new Set(Object.keys(fieldsOf({})));
    const fields = Object.entries(value).filter(
      ([name, typed]) => known.has(name) && typeof typed === 'string',
    );
    return fields.length === 0 ? null : Object.fromEntries(fields);
  } catch {
    return null;
  }
}

/** The draft of a run of the log; null when there is none. */
export function keptDraft(run: number): SheetDraft | null {
  try {
    return draftIn(sessionStorage.getItem(nameOf(run)));
  } catch {
    // Browsers may keep the storage of a tab shut away: then nothing is kept.
    return null;
  }
}

/** Keeps the draft of a run; null ends it. */
export function keepDraft(run: number, draft: SheetDraft | null): void {
  try {
    if (draft === null) sessionStorage.removeItem(nameOf(run));
    else sessionStorage.setItem(nameOf(run), JSON.stringify(draft));
  } catch {
    // Full or shut away: the page works without.
  }
}

function nameOf(run: number): string {
  return `trundle-sheet-${run}`;
}
