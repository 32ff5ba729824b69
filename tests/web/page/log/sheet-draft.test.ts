/** What was written on a sheet and not saved. */
import { describe, expect, it } from 'vitest';
import { fieldsOf } from '../../../../src/web/page/log/sheet-change.js';
import { draftIn, draftOf, withDraft } from '../../../../src/web/page/log/sheet-draft.js';

const PASS = { floor: 'dairy hall', lane: '2', tags: ['wet'] };

describe('a draft of a sheet', () => {
  it('holds the fields that were written over, and no others', () => {
    const typed = { ...fieldsOf(PASS), lane: '', notes: 'third board creaks ' };
    expect(draftOf(PASS, typed)).toEqual({ lane: '', notes: 'third board creaks ' });
    expect(draftOf(PASS, fieldsOf(PASS))).toBeNull();
  });

  it('leaves alone what somebody else changed meanwhile', () => {
    const later = { ...PASS, floor: 'dairy hall, east end' };
    expect(withDraft(later, { notes: 'creaks' })).toEqual({ ...fieldsOf(later), notes: 'creaks' });
  });

  it.each([null, '', '{', '[]', '7', '{"notes":7}', '{"__proto__":"x","constructor":"y"}'])(
    'is none where the tab holds %j',
    (text) => expect(draftIn(text)).toBeNull(),
  );

  it('comes back as it was kept', () => {
    const draft = { notes: 'creaks', tags: '' };
    expect(draftIn(JSON.stringify(draft))).toEqual(draft);
  });
});
