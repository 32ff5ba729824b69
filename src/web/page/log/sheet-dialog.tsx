/** The sheet of a run to write on, tags among it. What was measured does not change by it; what was not saved is kept until it is let go. */
import { useEffect, useRef, useState } from 'preact/hooks';
import { runSheetTexts, webLogTexts, frameTexts } from '../../../texts/index.js';
import type { Problem, RunList, RunRow } from '../../api.js';
import { problemOf, sendJson } from '../api-client.js';
import { tell } from '../notices.js';
import { Confirm } from '../parts/confirm.js';
import { Dialog } from '../parts/dialog.js';
import { ProblemNote } from '../parts/problem-note.js';
import { keepDraft, keptDraft } from './kept-draft.js';
import { SHEET_ENTRIES, changeFrom, type SheetEntry, type SheetFields } from './sheet-change.js';
import { draftOf, withDraft } from './sheet-draft.js';

/** Shows it. @param props.list names that occur in the log are offered */
export function SheetDialog({
  run,
  list,
  onClose,
}: {
  readonly run: RunRow;
  readonly list: RunList | null;
  readonly onClose: () => void;
}) {
  const [kept] = useState(() => keptDraft(run.id));
  const [typed, setTyped] = useState<SheetFields>(() => withDraft(run.pass, kept));
  const [problem, setProblem] = useState<Problem | null>(null);
  const [isSaving, setIsSaving] = useState(false);
  const [isAsking, setIsAsking] = useState(false);
  const draft = draftOf(run.pass, typed);
  useUnsaved(run.id, draft !== null);
  const end = (): void => {
    keepDraft(run.id, null);
    onClose();
  };
  const leave = (): void => {
    if (changeFrom(run.pass, typed) === null) end();
    else setIsAsking(true);
  };
  const set = (name: keyof SheetFields, value: string): void => {
    const now = { ...typed, [name]: value };
    setTyped(now);
    keepDraft(run.id, draftOf(run.pass, now));
  };
  const save = async (): Promise<void> => {
    const change = changeFrom(run.pass, typed);
    if (change === null) return end();
    setIsSaving(true);
    try {
      await sendJson<RunRow>('PATCH', `/api/runs/${run.id}`, change);
      end();
      tell(webLogTexts.saved(run.id));
    } catch (error) {
      setProblem(problemOf(error));
      setIsSaving(false);
    }
  };
  return (
    <Dialog title={webLogTexts.sheetTitle(run.id, run.clipFile)} onClose={leave} class="sheet-dialog">
      <form
        onSubmit={(event) => {
          event.preventDefault();
          if (!isSaving) void save();
        }}
      >
        <fieldset class="sheet-fields">
          <legend class="unseen">{webLogTexts.sheetFields}</legend>
          {SHEET_ENTRIES.map((name) => (
            <Entry
              key={name}
              name={name}
              value={typed[name]}
              offers={list?.names[name] ?? []}
              onValue={(value) => set(name, value)}
            />
          ))}
          <label class="field wide">
            <span>{runSheetTexts.tags}</span>
            <input
              type="text"
              value={typed.tags}
              placeholder={webLogTexts.tagsLine}
              onInput={(event) => set('tags', event.currentTarget.value)}
            />
          </label>
        </fieldset>
        {kept !== null && draft !== null && <p class="legend">{webLogTexts.draftBack}</p>}
        {problem !== null && <ProblemNote problem={problem} />}
        <div class="dialog-buttons">
          <button type="button" onClick={leave}>
            {frameTexts.cancel}
          </button>
          <button type="submit" class="main" aria-disabled={isSaving}>
            {isSaving ? webLogTexts.saving : webLogTexts.save}
          </button>
        </div>
      </form>
      {isAsking && (
        <Confirm
          title={webLogTexts.leaveTitle}
          sentence={webLogTexts.leaveSentence}
          yes={webLogTexts.leave}
          no={webLogTexts.goOn}
          onYes={end}
          onClose={() => setIsAsking(false)}
        />
      )}
    </Dialog>
  );
}

/** Says where unsaved words are when the dialog goes without being asked, as when one goes back. */
function useUnsaved(run: number, isUnsaved: boolean): void {
  const unsaved = useRef(isUnsaved);
  unsaved.current = isUnsaved;
  useEffect(
    () => () => {
      if (unsaved.current && keptDraft(run) !== null) tell(webLogTexts.draftKept(run));
    },
    [run],
  );
}

const CHOICES: Readonly<Partial<Record<SheetEntry, Readonly<Record<string, string>>>>> = {
  direction: runSheetTexts.directions,
  mark: runSheetTexts.marks,
};

/** Checked by the browser before it is sent. */
const WHOLE_NUMBER = {
  inputMode: 'numeric',
  pattern: '[1-9][0-9]{0,3}',
  title: webLogTexts.wholeNumber,
} as const;

function Entry({
  name,
  value,
  offers,
  onValue,
}: {
  readonly name: SheetEntry;
  readonly value: string;
  readonly offers: readonly string[];
  readonly onValue: (value: string) => void;
}) {
  const choices = CHOICES[name];
  const listed = `sheet-${name}`;
  return (
    <label class={`field${name === 'notes' ? ' wide' : ''}`}>
      <span>{runSheetTexts.names[name]}</span>
      {choices !== undefined ? (
        <select value={value} onChange={(event) => onValue(event.currentTarget.value)}>
          <option value="">{webLogTexts.notGiven}</option>
          {Object.entries(choices).map(([one, words]) => (
            <option key={one} value={one}>
              {words}
            </option>
          ))}
        </select>
      ) : name === 'notes' ? (
        <textarea value={value} onInput={(event) => onValue(event.currentTarget.value)} />
      ) : (
        <>
          <input
            type="text"
            value={value}
            list={offers.length > 0 ? listed : undefined}
            {...(name === 'passNumber' ? WHOLE_NUMBER : {})}
            onInput={(event) => onValue(event.currentTarget.value)}
          />
          {offers.length > 0 && (
            <datalist id={listed}>
              {offers.map((offer) => (
                <option key={offer} value={offer} />
              ))}
            </datalist>
          )}
        </>
      )}
    </label>
  );
}
