/** The form of lens, move, dolly, delivery and sheet: filled by typing, from a setup used before, or from a rig file beside the clip. */
import type { ComponentChildren } from 'preact';
import type { SettingName, Settings } from '../../../settings/index.js';
import { settingTexts, settingsFormTexts as texts } from '../../../texts/index.js';
import type { About, SavedSetup } from '../../api.js';
import { choicesOf, offersOf } from './field-choices.js';
import { FOLDED_GROUPS, OPEN_GROUPS, type FormGroup } from './form-groups.js';
import { clashOf, endLine, faultyOf, givenOf, holds } from './form-settings.js';
import { SettingField } from './setting-field.js';

interface Props {
  /** As typed, by their names. */
  readonly settings: Settings;
  /** The clip that they are shown for. */
  readonly clip: string;
  /** What the rig file of that clip says; null when it has none. */
  readonly rig: Settings | null;
  /** Those that stand there from the clips before. */
  readonly kept: readonly SettingName[];
  readonly about: About;
  /** The newest first. */
  readonly setups: readonly SavedSetup[];
  /** With every letter. */
  readonly onType: (name: SettingName, text: string) => void;
  readonly onSetup: (setup: Settings) => void;
  readonly onRig: (rig: Settings) => void;
  readonly onClear: () => void;
}

/** Shows it. */
export function RigForm(props: Props) {
  const { settings: given, clip, rig, kept, about, setups, onType, onSetup, onRig, onClear } = props;
  const end = endLine(given, about.deliveries);
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
        onType={(text) => onType(name, text)}
      />
    ));
  return (
    <form class="rig-form" autocomplete="off" onSubmit={(event) => event.preventDefault()}>
      {kept.length > 0 && (
        <div class="rig-beside kept-note" role="status">
          <p>{texts.keptFromLast(kept.map((name) => settingTexts.labels[name]))}</p>
          <button type="button" onClick={onClear}>
            {texts.empty}
          </button>
        </div>
      )}
      <LastSetups setups={setups} onTake={onSetup} />
      {rig !== null && <RigBeside clip={clip} isTaken={holds(given, rig)} onTake={() => onRig(rig)} />}
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
        <button type="button" disabled={Object.keys(given).length === 0} onClick={onClear}>
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
