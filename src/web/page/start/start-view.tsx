/** The first screen: clips to measure, in and out of each, what they were shot with, and the one button that starts it. */
import { useEffect, useState } from 'preact/hooks';
import { startTexts } from '../../../texts/index.js';
import type { About, SavedSetup } from '../../api.js';
import { about } from '../about.js';
import { getJson } from '../api-client.js';
import { faultOfForm, settingsOfForm } from '../form/form-settings.js';
import { RigForm } from '../form/rig-form.js';
import { go } from '../router.js';
import { Trim } from '../trim/trim.js';
import { batch, batchSettings, readyClips, selectedClip, unfinished } from './batch.js';
import { ChooseClips } from './choose-clips.js';
import { ClipRow } from './clip-row.js';
import { isOrdering, orderMeasurements } from './order.js';

/** Shows it. */
export function StartView() {
  const rows = batch.value;
  const selected = selectedClip.value;
  const known = about.value;
  const setups = useSetups();
  return (
    <main class="start">
      <h1 class="view-title">{startTexts.title}</h1>
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
            <p class="legend">{startTexts.settingsShared(readyClips.value.length + unfinished.value)}</p>
            <RigForm settings={batchSettings} clip={selected.clip} about={known} setups={setups} />
          </section>
        </div>
      )}
      {rows.length > 0 && known !== null && <MeasureBar about={known} />}
    </main>
  );
}

/** The main button, and what speaks against it. */
function MeasureBar({ about: { deliveries } }: { readonly about: About }) {
  const [said, setSaid] = useState<string | null>(null);
  const ready = readyClips.value;
  const onTheWay = unfinished.value;
  const measure = async (): Promise<void> => {
    const settings = settingsOfForm(batchSettings.peek());
    const fault = faultOfForm(settings, deliveries);
    setSaid(fault);
    if (fault !== null) return;
    const refused = await orderMeasurements(ready, settings);
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
