/** Asks before something that cannot be taken back. */
import { useState } from 'preact/hooks';
import { frameTexts } from '../../../texts/index.js';
import { Dialog } from './dialog.js';

/** Shows the question. @param props.onYes its promise keeps the dialog open until it is settled */
export function Confirm({
  title,
  sentence,
  yes,
  no = frameTexts.cancel,
  onYes,
  onClose,
}: {
  readonly title: string;
  readonly sentence: string;
  /** On the button that does it. */
  readonly yes: string;
  /** On the button that does not. */
  readonly no?: string;
  readonly onYes: () => Promise<void> | void;
  readonly onClose: () => void;
}) {
  const [isDoing, setIsDoing] = useState(false);
  const doIt = async (): Promise<void> => {
    setIsDoing(true);
    try {
      await onYes();
    } finally {
      setIsDoing(false);
    }
  };
  return (
    <Dialog title={title} onClose={onClose} class="narrow-dialog">
      <p>{sentence}</p>
      <div class="dialog-buttons">
        <button type="button" onClick={onClose}>
          {no}
        </button>
        <button type="button" class="main" aria-disabled={isDoing} onClick={() => !isDoing && void doIt()}>
          {yes}
        </button>
      </div>
    </Dialog>
  );
}
