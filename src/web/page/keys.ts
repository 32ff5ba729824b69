/** Keys of the view that is shown: bound while it is there, never taken from somebody who types, and listed on "?". */
import { useEffect, useRef } from 'preact/hooks';
import { belongsToControl, nameOfKey } from './key-names.js';

/** A key that does something. */
export interface KeyBinding {
  /** As `KeyboardEvent.key`, letters small; "Shift+ArrowLeft" with shift where the key is no sign. */
  readonly key: string;
  /** What it does, in a few words. Several keys may do the same. */
  readonly what: string;
  readonly run: (event: KeyboardEvent) => void;
}

type List = { current: readonly KeyBinding[] };

/** Lists that are bound, the newest last. */
const bound: List[] = [];

/** Binds keys for as long as a component is shown; of one key bound twice the newest holds. The list may change from one look to the next. */
export function useKeys(list: readonly KeyBinding[]): void {
  const held = useRef(list);
  held.current = list;
  useEffect(() => {
    bound.push(held);
    return () => {
      bound.splice(bound.indexOf(held), 1);
    };
  }, []);
}

/** What is bound now: each action once with all its keys, in the order of the views. */
export function boundKeys(): readonly { readonly what: string; readonly keys: readonly string[] }[] {
  const byWhat = new Map<string, string[]>();
  for (const { current } of bound)
    for (const { key, what } of current) byWhat.set(what, [...(byWhat.get(what) ?? []), key]);
  return [...byWhat].map(([what, keys]) => ({ what, keys }));
}

/** Lets keys run what they are bound to. Called once. */
export function startKeys(): void {
  addEventListener('keydown', (event) => {
    const name = nameOfKey(event);
    // A chart or a handle that took the key has said so; a dialog lies over all that is bound.
    if (name === null || event.defaultPrevented || document.querySelector('dialog[open]') !== null) return;
    const { target } = event;
    if (target instanceof HTMLElement && belongsToControl(name, target)) return;
    const binding = bound.flatMap(({ current }) => current).findLast(({ key }) => key === name);
    if (binding === undefined) return;
    event.preventDefault();
    binding.run(event);
  });
}
