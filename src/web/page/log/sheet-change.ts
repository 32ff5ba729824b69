/** What a person wrote over the sheet of a run, as the change that the server is asked for. Pure functions. */
import type { PassSheet } from '../../../run/index.js';
import type { RunChange } from '../../api.js';

/** Entries of the sheet that are one field each, in the order of the form. */
export const SHEET_ENTRIES = [
  'floor',
  'lane',
  'direction',
  'setup',
  'wheels',
  'track',
  'mark',
  'passNumber',
  'roll',
  'slate',
  'take',
  'operator',
  'location',
  'production',
  'unit',
  'notes',
] as const satisfies readonly (keyof PassSheet)[];

/** One of them. */
export type SheetEntry = (typeof SHEET_ENTRIES)[number];

/** The fields of the form as typed; tags between commas. */
export type SheetFields = Readonly<Record<SheetEntry | 'tags', string>>;

/** The fields of a sheet. */
export function fieldsOf(pass: PassSheet): SheetFields {
  const entries = SHEET_ENTRIES.map((name) => [name, String(pass[name] ?? '')]);
  return {
    ...(Object.fromEntries(entries) as Record<SheetEntry, string>),
    tags: (pass.tags ?? []).join(', '),
  };
}

/** What has to change; null when nothing was written over. What was emptied is taken off. */
export function changeFrom(pass: PassSheet, typed: SheetFields): RunChange | null {
  const before = fieldsOf(pass);
  const changed = SHEET_ENTRIES.filter((name) => typed[name].trim() !== before[name]);
  const sheet = Object.fromEntries(
    changed.map((name) => [name, typed[name].trim() === '' ? null : typed[name].trim()]),
  );
  const tags = tagsIn(typed.tags);
  const had = pass.tags ?? [];
  const addTags = tags.filter((tag) => !had.includes(tag));
  const removeTags = had.filter((tag) => !tags.includes(tag));
  if (changed.length + addTags.length + removeTags.length === 0) return null;
  return { sheet, addTags, removeTags };
}

/** The words between commas, each once. */
export function tagsIn(text: string): readonly string[] {
  return [
    ...new Set(
      text
        .split(',')
        .map((tag) => tag.trim())
        .filter((tag) => tag !== ''),
    ),
  ];
}
