/** The first screen: clips to measure, in and out of each, what they were shot with, and the one button that starts it. */
import { useEffect, useState } from 'preact/hooks';
import { startTexts } from '../../../texts/index.js';
import type { About, SavedSetup } from '../../api.js';
import { about } from '../about.js';
import { getJson } from '../api-client.js';
import { focusField } from '../form/focus-field.js';
import { settingsOfForm, wrongFields } from '../form/form-settings.js';
import { RigForm } from '../form/rig-form.js';
import { go } from '../router.js';
import { Trim } from '../trim/trim.js';
import {
  batch,
  giveRig,
  keptFromLast,
  readyClips,
  select,
  selectedClip,
  unfinished,
  type ReadyClip,
} from './batch.js';
import { clearSettings, settingsOfClip, takeSetup, typeSetting, typesForAll } from './batch-settings.js';
import { ChooseClips } from './choose-clips.js';
import { ClipRow } from './clip-row.js';
import { keepBatch } from './kept-batch.js';
import { isOrdering, orderMeasurements } from './order.js';

/** Shows it. */
export function StartView() {
  // Before anything is drawn, so that what was there stands there at once.
  useState(keepBatch);
  const rows = batch.value;
  const selected = selectedClip.value;
  const known = about.value;
  const setups = useSetups();
  return (
    <main class="start">
      <h1 class={rows.length === 0 ? 'view-title' : 'unseen'}>{startTexts.title}</h1>
      <ChooseClips />
      {rows.length > 0 && (
        <section class="batch" aria-label={startTexts.batch(rows.length)}>
          <ul class="clip-rows">
            {rows.map((row) => (
              <ClipRow key={row.key} row={row} isSelected={row.key === selected?.key} />
            ))}
          </ul>
        </section>
      )}
      {selected !== null && known !== null && (
        <div class="prepare">
          <section class="prepare-trim">
            <h2>{startTexts.trim}</h2>
            {rows.length > 1 && <p class="clip-title">{selected.name}</p>}
            <Trim key={selected.key} clip={selected.clip} value={selected.stretch} />
          </section>
          <section class="prepare-rig">
            <h2>{startTexts.settings}</h2>
            {rows.length > 1 && <WhomFor name={selected.name} />}
            <RigForm
              settings={settingsOfClip(selected)}
              clip={selected.name}
              rig={selected.rig.value}
              kept={keptFromLast.value.filter((name) => selected.own.value[name] === undefined)}
              about={known}
              setups={setups}
              onType={(name, text) => typeSetting(selected, name, text)}
              onSetup={(setup) => takeSetup(selected, setup)}
              onRig={(rig) => giveRig(selected, rig)}
              onClear={() => clearSettings(selected)}
            />
          </section>
        </div>
      )}
      {rows.length > 0 && known !== null && <MeasureBar about={known} />}
    </main>
  );
}

/** Whom typed values are for, where there are several clips. */
function WhomFor({ name }: { readonly name: string }) {
  const count = readyClips.value.length + unfinished.value;
  const choice = (isAll: boolean, words: string) => (
    <label>
      <input
        type="radio"
        name="typed-for"
        checked={typesForAll.value === isAll}
        onChange={() => (typesForAll.value = isAll)}
      />
      {words}
    </label>
  );
  return (
    <fieldset class="whom-for">
      <legend class="legend">{startTexts.shownFor(name)}</legend>
      {choice(true, startTexts.forAll(count))}
      {choice(false, startTexts.forThis)}
    </fieldset>
  );
}

/** The first clip whose settings will not do, with the field and the sentence; null when all will. */
function firstWrong(clips: readonly ReadyClip[], deliveries: About['deliveries']) {
  for (const row of clips) {
    const wrong = wrongFields(settingsOfForm(settingsOfClip(row)), deliveries);
    if (wrong !== null) return { row, ...wrong };
  }
  return null;
}

/** The main button, and what speaks against it. */
function MeasureBar({ about: { deliveries } }: { readonly about: About }) {
  const [said, setSaid] = useState<string | null>(null);
  const ready = readyClips.value;
  const onTheWay = unfinished.value;
  const measure = async (): Promise<void> => {
    const wrong = firstWrong(ready, deliveries);
    setSaid(wrong === null ? null : clipped(ready, wrong));
    if (wrong !== null) {
      select(wrong.row.key);
      if (wrong.first !== null) focusField(wrong.first);
      return;
    }
    const refused = await orderMeasurements(ready);
    if (refused === 0) go('/work');
    else setSaid(startTexts.refused(refused));
  };
  return (
    <div class="measure-bar">
      <button
        type="button"
        class="main"
        disabled={ready.length === 0 || isOrdering.value}
        onClick={() => void measure()}
      >
        {isOrdering.value ? startTexts.ordering : startTexts.measure(ready.length)}
      </button>
      <p class={said === null ? 'legend' : 'fault'} role="status">
        {said ?? (onTheWay > 0 ? startTexts.stillSending(onTheWay) : '')}
      </p>
    </div>
  );
}

/** The sentence; with its clip where there are several. */
function clipped(
  ready: readonly ReadyClip[],
  { row, line }: { readonly row: ReadyClip; readonly line: string },
): string {
  return ready.length > 1 ? startTexts.ofClip(row.name, line) : line;
}

/** Setups that were measured with before, the newest first; none until they are there, and the form works without. */
function useSetups(): readonly SavedSetup[] {
  const [setups, setSetups] = useState<readonly SavedSetup[]>([]);
  useEffect(() => {
    let isCurrent = true;
    getJson<readonly SavedSetup[]>('/api/setups').then(
      (found) => isCurrent && setSetups(found),
      () => undefined,
    );
    return () => {
      isCurrent = false;
    };
  }, []);
  return setups;
}
