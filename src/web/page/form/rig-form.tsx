/** The form of lens, move, dolly, delivery and sheet: filled by typing, from a setup used before, or from a rig file beside the clip. */
import type { Signal } from '@preact/signals';
import type { ComponentChildren } from 'preact';
import { useEffect } from 'preact/hooks';
import type { SettingName, Settings } from '../../../settings/index.js';
import { settingsFormTexts as texts } from '../../../texts/index.js';
import type { About, ClipEntry, SavedSetup } from '../../api.js';
import { choicesOf, offersOf } from './field-choices.js';
import { FOLDED_GROUPS, OPEN_GROUPS, type FormGroup } from './form-groups.js';
import { clashOf, endLine, faultyOf, givenOf, holds, withSetting, withSetup } from './form-settings.js';
import { SettingField } from './setting-field.js';

interface Props {
  /** As typed, by their names; the form writes it with every letter. */
  readonly settings: Signal<Settings>;
  /** The clip whose rig file is taken; null as long as there is none. */
  readonly clip: ClipEntry | null;
  readonly about: About;
  /** The newest first. */
  readonly setups: readonly SavedSetup[];
}

/** Clips whose rig file was offered: it fills an empty form once, and never again after the form was emptied. */
const offered = new Set<string>();

/** Shows it. */
export function RigForm({ settings, clip, about, setups }: Props) {
  const given = settings.value;
  const end = endLine(given, about.deliveries);
  useEffect(() => {
    if (clip === null || clip.rig === null || offered.has(clip.id)) return;
    offered.add(clip.id);
    if (Object.keys(settings.peek()).length === 0) settings.value = clip.rig;
  }, [clip, settings]);
  const fields = (names: readonly SettingName[]) =>
    names.map((name) => (
      <SettingField
        key={name}
        name={name}
        text={given[name] ?? ''}
        presets={about.deliveries}
        clash={clashOf(given, name, about.deliveries)}
        choices={choicesOf(name, about)}
        offers={offersOf(name, about, setups)}
        onType={(text) => {
          settings.value = withSetting(settings.peek(), name, text);
        }}
      />
    ));
  return (
    <form class="rig-form" autocomplete="off" onSubmit={(event) => event.preventDefault()}>
      <LastSetups
        setups={setups}
        onTake={(setup) => {
          settings.value = withSetup(settings.peek(), setup);
        }}
      />
      {clip !== null && clip.rig !== null && (
        <RigBeside
          clip={clip.name}
          isTaken={holds(given, clip.rig)}
          onTake={() => {
            settings.value = { ...settings.peek(), ...clip.rig };
          }}
        />
      )}
      <div class="open-groups">
        {OPEN_GROUPS.map(({ key, names }) => (
          <fieldset key={key} class={`setting-group ${key}`}>
            <legend>{texts.groups[key]}</legend>
            {fields(names)}
          </fieldset>
        ))}
      </div>
      {FOLDED_GROUPS.map((group) => (
        <Folded key={group.key} group={group} settings={given} about={about}>
          {fields(group.names)}
        </Folded>
      ))}
      <div class="form-end">
        <p class={end.isFault ? 'form-fault' : undefined} role="status">
          {end.line}
        </p>
        <button
          type="button"
          disabled={Object.keys(given).length === 0}
          onClick={() => {
            settings.value = {};
          }}
        >
          {texts.empty}
        </button>
      </div>
    </form>
  );
}

/** The setups that were measured with last; one press fills the form. */
function LastSetups({
  setups,
  onTake,
}: {
  readonly setups: readonly SavedSetup[];
  readonly onTake: (setup: Settings) => void;
}) {
  if (setups.length === 0) return null;
  return (
    <section class="last-setups" aria-labelledby="last-setups">
      <h3 id="last-setups">{texts.lastSetups}</h3>
      <p class="setting-line">{texts.lastSetupsLine}</p>
      <ul>
        {setups.map(({ id, name, settings }) => (
          <li key={id}>
            <button type="button" onClick={() => onTake(settings)}>
              {name}
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}

/** What a rig file beside the clip did, or could do. */
function RigBeside({
  clip,
  isTaken,
  onTake,
}: {
  readonly clip: string;
  readonly isTaken: boolean;
  readonly onTake: () => void;
}) {
  if (isTaken)
    return (
      <p class="rig-beside" role="status">
        {texts.rigTaken(clip)}
      </p>
    );
  return (
    <p class="rig-beside" role="status">
      {texts.rigBeside(clip)}{' '}
      <button type="button" onClick={onTake}>
        {texts.takeRig}
      </button>
    </p>
  );
}

/** A group that is folded away; it says how much of it is filled in, and what of it will not do. */
function Folded({
  group: { key, names },
  settings,
  about,
  children,
}: {
  readonly group: FormGroup;
  readonly settings: Settings;
  readonly about: About;
  readonly children: ComponentChildren;
}) {
  const faults = faultyOf(settings, names, about.deliveries).length;
  return (
    <details class="setting-group folded">
      <summary>
        <span class="group-name">{texts.groups[key]}</span>
        <span class="group-count">
          {faults > 0 ? texts.faults(faults) : texts.given(givenOf(settings, names).length)}
        </span>
      </summary>
      <div class="group-fields">{children}</div>
    </details>
  );
}
