/** One field of the form: label, what it is for, and under it at once what was understood, or why it will not do. */
import { useMemo } from 'preact/hooks';
import { readSetting, type SettingName, type SettingReading } from '../../../settings/index.js';
import { settingTexts } from '../../../texts/index.js';
import type { Presets } from './form-settings.js';

/** A value to choose, with its words. */
export interface Choice {
  readonly value: string;
  readonly words: string;
}

interface Props {
  readonly name: SettingName;
  /** As typed; empty when not given. */
  readonly text: string;
  readonly presets: Presets;
  /** Why it does not go with another field; null when it does. */
  readonly clash: string | null;
  /** The only values there are; null where anything may be typed. */
  readonly choices: readonly Choice[] | null;
  /** Offered while typing; anything else goes too. */
  readonly offers: readonly Choice[];
  readonly onType: (text: string) => void;
}

const EMPTY: SettingReading = { refusal: null, understood: null };

/** Shows it. */
export function SettingField({ name, text, presets, clash, choices, offers, onType }: Props) {
  const reading = useMemo(
    () => (text.trim() === '' ? EMPTY : readSetting(name, text, { presets })),
    [name, text, presets],
  );
  const refusal = reading.refusal ?? clash;
  const id = `setting-${name}`;
  const common = {
    id,
    name,
    'aria-describedby': `${id}-said ${id}-line`,
    'aria-invalid': refusal === null ? undefined : ('true' as const),
  };
  return (
    <div class={`setting${name === 'notes' ? ' wide' : ''}`}>
      <label for={id}>{settingTexts.labels[name]}</label>
      <p class="setting-line" id={`${id}-line`}>
        {settingTexts.lines[name]}
      </p>
      {choices !== null ? (
        <select {...common} value={text} onChange={(event) => onType(event.currentTarget.value)}>
          <option value="">{settingTexts.placeholders[name]}</option>
          {withTyped(choices, text).map(({ value, words }) => (
            <option key={value} value={value}>
              {words}
            </option>
          ))}
        </select>
      ) : name === 'notes' ? (
        <textarea
          {...common}
          rows={3}
          value={text}
          placeholder={settingTexts.placeholders[name]}
          onInput={(event) => onType(event.currentTarget.value)}
        />
      ) : (
        <input
          {...common}
          type="text"
          value={text}
          placeholder={settingTexts.placeholders[name]}
          list={offers.length > 0 ? `${id}-offers` : undefined}
          autocomplete="off"
          autocapitalize="off"
          spellcheck={false}
          enterkeyhint="next"
          onInput={(event) => onType(event.currentTarget.value)}
        />
      )}
      {offers.length > 0 && (
        <datalist id={`${id}-offers`}>
          {offers.map(({ value, words }) => (
            <option key={value} value={value} label={words} />
          ))}
        </datalist>
      )}
      <p class="setting-said" id={`${id}-said`}>
        {refusal ?? reading.understood ?? ''}
      </p>
    </div>
  );
}

/** What came from a file in another spelling can be chosen, too. */
function withTyped(choices: readonly Choice[], text: string): readonly Choice[] {
  const isKnown = text === '' || choices.some(({ value }) => value === text);
  return isKnown ? choices : [...choices, { value: text, words: text }];
}
