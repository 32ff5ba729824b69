/** A dialog over the page: keeps the focus inside, closes on Esc and beside it, gives the focus back. */
import type { ComponentChildren } from 'preact';
import { useEffect, useId, useRef } from 'preact/hooks';
import { frameTexts } from '../../../texts/index.js';

/** Shows it for as long as it is rendered. */
export function Dialog({
  title,
  onClose,
  children,
  class: className = '',
}: {
  readonly title: string;
  readonly onClose: () => void;
  readonly children: ComponentChildren;
  readonly class?: string;
}) {
  const box = useRef<HTMLDialogElement>(null);
  const head = useRef<HTMLHeadingElement>(null);
  const id = useId();
  useEffect(() => {
    const dialog = box.current;
    const before = document.activeElement;
    dialog?.showModal();
    // The title is read first, and no keyboard comes up on a phone before it is wanted.
    head.current?.focus();
    return () => {
      dialog?.close();
      if (before instanceof HTMLElement && before.isConnected) before.focus();
    };
  }, []);
  return (
    <dialog
      ref={box}
      class={className}
      aria-labelledby={id}
      onKeyDown={(event) => {
        // A browser takes a second Esc for an order that cannot be refused: it does not get to see one.
        if (event.key !== 'Escape' || event.defaultPrevented) return;
        event.preventDefault();
        event.stopPropagation();
        onClose();
      }}
      onCancel={(event) => {
        event.preventDefault();
        onClose();
      }}
      onPointerDown={(event) => {
        // What lies around the content belongs to the dialog itself.
        if (event.target === box.current) onClose();
      }}
    >
      <div class="dialog-sheet">
        <header class="dialog-head">
          <h2 id={id} ref={head} tabIndex={-1}>
            {title}
          </h2>
          <button type="button" class="quiet" onClick={onClose}>
            {frameTexts.close}
          </button>
        </header>
        {children}
      </div>
    </dialog>
  );
}
