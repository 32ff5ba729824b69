/** Search and filters of the log; names that occur in it are offered. */
import type { ComponentChildren } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import { gradeWord } from '../../../report/in-browser.js';
import { webLogTexts } from '../../../texts/index.js';
import type { RunList } from '../../api.js';
import { useNarrow } from '../use-narrow.js';
import { filterCount, type Asked, type Filters } from './asked.js';

/** Somebody types: the log is asked when they pause, ms. */
const PAUSE_MS = 250;
const GRADES = ['pass', 'marginal', 'fail', 'unmeasurable'] as const;
const NAMED = ['floor', 'lane', 'setup', 'delivery'] as const;
const DAYS = ['since', 'until'] as const;

/** Shows them. @param props.list null until the log is known */
export function FilterBar({
  asked,
  list,
  onText,
  onFilters,
}: {
  readonly asked: Asked;
  readonly list: RunList | null;
  readonly onText: (text: string) => void;
  readonly onFilters: (filters: Filters, tags: readonly string[]) => void;
}) {
  const isNarrow = useNarrow();
  const [isOpen, setIsOpen] = useState(false);
  const { filters, tags } = asked;
  const count = filterCount(asked);
  const set = (name: keyof Filters, value: string): void => {
    const others = Object.fromEntries(Object.entries(filters).filter(([other]) => other !== name));
    onFilters(value === '' ? others : { ...others, [name]: value }, tags);
  };
  return (
    <div role="search" class="log-filters">
      <SearchField text={asked.text} onText={onText} />
      {isNarrow && (
        <button type="button" aria-expanded={isOpen} onClick={() => setIsOpen(!isOpen)}>
          {webLogTexts.filtersOn(count)}
        </button>
      )}
      {(!isNarrow || isOpen) && (
        <fieldset class="filter-fields">
          <legend class="unseen">{webLogTexts.filters}</legend>
          {NAMED.map((name) => (
            <Choice
              key={name}
              name={name}
              value={filters[name] ?? ''}
              options={(list?.names[name] ?? []).map((value) => [value, value])}
              onChoice={(value) => set(name, value)}
            />
          ))}
          <Choice
            name="grade"
            value={filters.grade ?? ''}
            options={GRADES.map((grade) => [grade, gradeWord(grade)])}
            onChoice={(value) => set('grade', value)}
          />
          {[...tags, ''].map((tag, i) => (
            <Choice
              key={`tag-${i}`}
              name={i === 0 ? 'tag' : 'andTag'}
              value={tag}
              options={(list?.tags ?? [])
                .filter((one) => one === tag || !tags.includes(one))
                .map((one) => [one, one])}
              onChoice={(chosen) =>
                onFilters(filters, [
                  ...tags.slice(0, i),
                  ...(chosen === '' ? [] : [chosen]),
                  ...tags.slice(i + 1),
                ])
              }
            />
          ))}
          {DAYS.map((name) => (
            <Field key={name} name={name}>
              <input
                type="date"
                value={filters[name] ?? ''}
                onChange={(event) => set(name, event.currentTarget.value)}
              />
            </Field>
          ))}
          {count > 0 && (
            <button type="button" class="quiet" onClick={() => onFilters({}, [])}>
              {webLogTexts.clear}
            </button>
          )}
        </fieldset>
      )}
    </div>
  );
}

function SearchField({ text, onText }: { readonly text: string; readonly onText: (text: string) => void }) {
  const [typed, setTyped] = useState(text);
  const sent = useRef(text);
  useEffect(() => {
    // The address changed by itself, as the back button does.
    if (text !== sent.current) setTyped(text);
    sent.current = text;
  }, [text]);
  useEffect(() => {
    if (typed === sent.current) return;
    const timer = setTimeout(() => {
      sent.current = typed;
      onText(typed);
    }, PAUSE_MS);
    return () => clearTimeout(timer);
  }, [typed]);
  return (
    <label class="field log-search">
      <span>{webLogTexts.search}</span>
      <input
        type="search"
        placeholder={webLogTexts.searchFor}
        value={typed}
        onInput={(event) => setTyped(event.currentTarget.value)}
      />
    </label>
  );
}

type FieldName = keyof typeof webLogTexts.filterNames;

function Choice({
  name,
  value,
  options,
  onChoice,
}: {
  readonly name: FieldName;
  readonly value: string;
  readonly options: readonly (readonly [value: string, words: string])[];
  readonly onChoice: (value: string) => void;
}) {
  // An address may name what the log holds no more.
  const all =
    value === '' || options.some(([one]) => one === value) ? options : [...options, [value, value] as const];
  if (all.length === 0) return null;
  return (
    <Field name={name}>
      <select value={value} onChange={(event) => onChoice(event.currentTarget.value)}>
        <option value="">{webLogTexts.any}</option>
        {all.map(([one, words]) => (
          <option key={one} value={one}>
            {words}
          </option>
        ))}
      </select>
    </Field>
  );
}

function Field({ name, children }: { readonly name: FieldName; readonly children: ComponentChildren }) {
  return (
    <label class="field">
      <span>{webLogTexts.filterNames[name]}</span>
      {children}
    </label>
  );
}
