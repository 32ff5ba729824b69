/** Which key was pressed, and whether it is meant for a view or for the control that has the focus. */

/** What is known of a pressed key. */
export interface PressedKey {
  readonly key: string;
  readonly shiftKey: boolean;
  readonly ctrlKey: boolean;
  readonly metaKey: boolean;
  readonly altKey: boolean;
}

/** The name that a key is bound by; null with a modifier that belongs to the browser. @example "i", "?", "Shift+ArrowLeft" */
export function nameOfKey({ key, shiftKey, ctrlKey, metaKey, altKey }: PressedKey): string | null {
  if (ctrlKey || metaKey || altKey) return null;
  // Shift is part of a sign, and caps lock changes nothing.
  if (key.length === 1) return key.toLowerCase();
  return shiftKey ? `Shift+${key}` : key;
}

const NAVIGATION = /^(Shift\+)?(Arrow(Left|Right|Up|Down)|Home|End|PageUp|PageDown)$/;
const CLICKS = /^(button|summary)$/i;

/** The control with the focus, as far as it matters for keys. */
export interface KeyTarget {
  /** Of the element. @example "INPUT" */
  readonly tagName: string;
  /** Of an input. */
  readonly type?: string;
  readonly isContentEditable?: boolean;
}

/** True where a key belongs to the control: whatever is typed into a field, arrows on a slider, space on a button. */
export function belongsToControl(
  name: string,
  { tagName, type = '', isContentEditable }: KeyTarget,
): boolean {
  if (isContentEditable === true || /^(textarea|select)$/i.test(tagName)) return true;
  if (/^input$/i.test(tagName)) {
    if (/^(button|submit|reset|checkbox|file|image)$/.test(type)) return name === ' ' || name === 'Enter';
    if (/^(range|radio)$/.test(type)) return name === ' ' || NAVIGATION.test(name);
    return true;
  }
  if (CLICKS.test(tagName)) return name === ' ' || name === 'Enter';
  return /^a$/i.test(tagName) && name === 'Enter';
}
