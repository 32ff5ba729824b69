/** What was written on a sheet and not saved, as text and back. Pure functions. */
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
