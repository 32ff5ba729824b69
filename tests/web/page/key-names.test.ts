/** Which keys are meant for a view and which for the control that has the focus. */
import { describe, expect, it } from 'vitest';
import { belongsToControl, nameOfKey, type PressedKey } from '../../../src/web/page/key-names.js';

const pressed = (key: string, held: Partial<PressedKey> = {}): PressedKey => ({
  key,
  shiftKey: false,
  ctrlKey: false,
  metaKey: false,
  altKey: false,
  ...held,
});

describe('the name of a key', () => {
  it('is the sign whatever it takes to type it, and letters are small', () => {
    expect(nameOfKey(pressed('?', { shiftKey: true }))).toBe('?');
    expect(nameOfKey(pressed('I'))).toBe('i');
    expect(nameOfKey(pressed(' '))).toBe(' ');
  });

  it('tells shift from none where the key is no sign', () => {
    expect(nameOfKey(pressed('ArrowLeft'))).toBe('ArrowLeft');
    expect(nameOfKey(pressed('ArrowLeft', { shiftKey: true }))).toBe('Shift+ArrowLeft');
  });

  it('is none with a modifier of the browser', () => {
    for (const held of ['ctrlKey', 'metaKey', 'altKey'] as const)
      expect(nameOfKey(pressed('c', { [held]: true }))).toBeNull();
  });
});

describe('a control with the focus', () => {
  it.each([
    ['INPUT', 'text'],
    ['INPUT', 'search'],
    ['INPUT', 'date'],
    ['TEXTAREA', undefined],
    ['SELECT', undefined],
  ])('%s of type %s takes every key', (tagName, type) => {
    for (const key of ['i', ' ', 'ArrowLeft', '?'])
      expect(belongsToControl(key, { tagName, ...(type === undefined ? {} : { type }) })).toBe(true);
  });

  it('leaves letters to the view where nothing can be typed', () => {
    expect(belongsToControl('i', { tagName: 'BUTTON' })).toBe(false);
    expect(belongsToControl('c', { tagName: 'INPUT', type: 'checkbox' })).toBe(false);
    expect(belongsToControl('j', { tagName: 'INPUT', type: 'range' })).toBe(false);
    expect(belongsToControl('k', { tagName: 'DIV' })).toBe(false);
  });

  it('keeps the keys that work it', () => {
    expect(belongsToControl(' ', { tagName: 'BUTTON' })).toBe(true);
    expect(belongsToControl('Enter', { tagName: 'A' })).toBe(true);
    expect(belongsToControl(' ', { tagName: 'A' })).toBe(false);
    expect(belongsToControl('Shift+ArrowLeft', { tagName: 'INPUT', type: 'range' })).toBe(true);
    expect(belongsToControl('x', { tagName: 'DIV', isContentEditable: true })).toBe(true);
  });
});
