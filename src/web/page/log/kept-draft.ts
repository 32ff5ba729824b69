/** What was written on a sheet and not saved, kept with the tab: so that going back, a reload or a closed dialog costs no word. */
import { draftIn, type SheetDraft } from './sheet-draft.js';

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
