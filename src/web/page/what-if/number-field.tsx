/** A field for a number, taken when it is left or Enter is pressed, and while it is stepped; what is no number is put back. */
import { useEffect, useState } from 'preact/hooks';

/** Shows it. @param props.name for those who do not see what it stands beside */
export function NumberField({
  name,
  unit,
  value,
  onChange,
  disabled = false,
  id,
}: {
  readonly name?: string;
  readonly unit: string;
  readonly value: number;
  readonly onChange: (value: number) => void;
  readonly disabled?: boolean;
  readonly id?: string;
}) {
  const shown = String(Number(value.toPrecision(4)));
  const [typed, setTyped] = useState<string | null>(null);
  useEffect(() => setTyped(null), [value]);
  const take = (): void => {
    if (typed === null) return;
    const read = Number(typed.replace(',', '.'));
    setTyped(null);
    if (typed.trim() !== '' && typed !== shown && Number.isFinite(read) && read > 0) onChange(read);
  };
  return (
    <span class="ask-number">
      <input
        id={id}
        type="text"
        inputMode="decimal"
        autoComplete="off"
        aria-label={name}
        value={typed ?? shown}
        disabled={disabled}
        onInput={({ currentTarget }) => setTyped(currentTarget.value)}
        onBlur={take}
        onKeyDown={(event) => {
          if (event.key === 'Enter') take();
          if (event.key === 'Escape') setTyped(null);
        }}
      />
      <span aria-hidden="true">{unit}</span>
    </span>
  );
}
