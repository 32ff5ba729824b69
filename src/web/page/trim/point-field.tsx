/** The field of an in or out point: taken as people type, told at once when it cannot be read, written anew when they leave it. */
import { useId, useState } from 'preact/hooks';

/** A point and who is told when it is typed. */
export interface PointFieldProps {
  readonly label: string;
  /** What stands there unless something is being typed. */
  readonly text: string;
  readonly fault: string | null;
  readonly note: string;
  readonly onText: (text: string) => void;
}

/** Shows it. */
export function PointField({ label, text, fault, note, onText }: PointFieldProps) {
  const id = useId();
  const [typed, setTyped] = useState<string | null>(null);
  const saidBy = fault === null ? `${id}-note` : `${id}-fault`;
  return (
    <div class="trim-point">
      <label for={id}>{label}</label>
      <input
        id={id}
        type="text"
        autocomplete="off"
        spellcheck={false}
        value={typed ?? text}
        aria-invalid={fault !== null}
        aria-describedby={saidBy}
        onInput={(event) => {
          setTyped(event.currentTarget.value);
          onText(event.currentTarget.value);
        }}
        onBlur={() => setTyped(null)}
        onKeyDown={(event) => {
          if (event.key === 'Enter') event.currentTarget.blur();
        }}
      />
      {fault === null ? (
        <p id={`${id}-note`} class="legend">
          {note}
        </p>
      ) : (
        <p id={`${id}-fault`} class="fault">
          {fault}
        </p>
      )}
    </div>
  );
}
