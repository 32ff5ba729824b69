/** Makes elements of the page: HTML and SVG, with attributes and children. */
import { px } from '../charts/index.js';

type Attributes = Readonly<Record<string, string>>;

/** One HTML element. */
export function make<Name extends keyof HTMLElementTagNameMap>(
  name: Name,
  attributes: Attributes,
  ...children: readonly (Node | string)[]
): HTMLElementTagNameMap[Name] {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  made.append(...children);
  return made;
}

/** One SVG element; numbers are px. */
export function makeSvg<Name extends keyof SVGElementTagNameMap>(
  name: Name,
  attributes: Readonly<Record<string, string | number>>,
): SVGElementTagNameMap[Name] {
  const made = document.createElementNS('http://www.w3.org/2000/svg', name);
  for (const [key, value] of Object.entries(attributes))
    made.setAttribute(key, typeof value === 'number' ? px(value) : value);
  return made;
}

/** A button with a word on it, which tells when it has nothing to do but keeps the focus. */
export function makeButton(word: Node | string, press: () => void): HTMLButtonElement {
  const button = make('button', { type: 'button' }, word);
  button.addEventListener('click', () => {
    if (button.getAttribute('aria-disabled') !== 'true') press();
  });
  return button;
}

/** Marks a button as one that has nothing to do now. */
export function setIdle(button: HTMLButtonElement, idle: boolean): void {
  button.setAttribute('aria-disabled', String(idle));
}
