/** A field for a figure with its reach, taken when it is left or Enter is pressed; what will not do stays there, with a sentence under it. */
import { useEffect, useId, useState } from 'preact/hooks';
import { readTyped, reachInWords, unitOf, type FigureKind, type Reach } from './typed-figure.js';

/** Shows it. @param props.name for those who do not see what it stands beside */
export function NumberField({
  name,
  kind,
  reach,
  value,
  onChange,
  disabled = false,
  id,
}: {
  readonly name?: string;
  readonly kind: FigureKind;
  readonly reach: Reach;
  readonly value: number;
  readonly onChange: (value: number) => void;
  readonly disabled?: boolean;
  readonly id?: string;
}) {
  const about = useId();
  const shown = String(Number(value.toPrecision(4)));
  const [typed, setTyped] = useState<string | null>(null);
  const [fault, setFault] = useState<string | null>(null);
  const putBack = (): void => {
    setTyped(null);
    setFault(null);
  };
  // What is set elsewhere, as by the slider, goes first.
  useEffect(putBack, [value]);
  const take = (): void => {
    if (typed === null) return;
    if (typed.trim() === '' || typed === shown) {
      putBack();
      return;
    }
    const read = readTyped(typed, kind, reach);
    setFault(read.fault);
    if (read.value === null) return;
    setTyped(null);
    onChange(read.value);
  };
  return (
    <>
      <span class="ask-number">
        <input
          id={id}
          type="text"
          inputMode="decimal"
          autoComplete="off"
          aria-label={name}
          aria-describedby={about}
          aria-invalid={fault !== null}
          value={typed ?? shown}
          disabled={disabled}
          onInput={({ currentTarget }) => setTyped(currentTarget.value)}
          onBlur={take}
          onKeyDown={(event) => {
            if (event.key === 'Enter') take();
            if (event.key === 'Escape') putBack();
          }}
        />
        <span aria-hidden="true">{unitOf(kind)}</span>
        <span class="ask-reach" id={about}>
          {reachInWords(reach)}
        </span>
      </span>
      {fault !== null && (
        <p class="ask-fault" role="alert">
          {fault}
        </p>
      )}
    </>
  );
}
