/** A slider with its value in words, and a field beside it for a value of one's own. */
import type { ComponentChildren } from 'preact';
import { useId } from 'preact/hooks';
import { askTexts } from '../../../texts/index.js';
import { NumberField } from './number-field.js';
import type { AskedRange } from './slider-ranges.js';
import { placeOf, SLIDER_STEPS, valueAt, valueByKey } from './slider-scale.js';
import { unitOf, type FigureKind } from './typed-figure.js';

/** Shows it. @param props.words the value as it is read */
export function SliderField({
  name,
  kind,
  range,
  value,
  words,
  onChange,
  note,
  disabled = false,
}: {
  readonly name: string;
  readonly kind: FigureKind;
  readonly range: AskedRange;
  readonly value: number;
  readonly words: (value: number) => string;
  readonly onChange: (value: number) => void;
  readonly note?: ComponentChildren;
  readonly disabled?: boolean;
}) {
  const id = useId();
  const inWords = value === range.measured ? askTexts.used(words(value)) : words(value);
  return (
    <div class={`ask-slider${disabled ? ' off' : ''}`}>
      <div class="ask-words">
        <label for={id}>{name}</label>
        <output for={id}>{note ?? inWords}</output>
      </div>
      <div class="ask-slide" style={{ '--measured': placeOf(range, range.measured) / SLIDER_STEPS }}>
        <input
          id={id}
          type="range"
          min={0}
          max={SLIDER_STEPS}
          step={1}
          value={placeOf(range, value)}
          aria-valuetext={inWords}
          disabled={disabled}
          onInput={({ currentTarget }) => onChange(valueAt(range, Number(currentTarget.value)))}
          onKeyDown={(event) => {
            const next = valueByKey(range, value, event.key);
            if (next === null) return;
            event.preventDefault();
            onChange(next);
          }}
        />
        <span class="ask-measured" aria-hidden="true" />
      </div>
      <NumberField
        name={askTexts.exact(name, unitOf(kind))}
        kind={kind}
        reach={range}
        value={value}
        disabled={disabled}
        onChange={onChange}
      />
    </div>
  );
}
