/** What the log is asked for, as it stands in the address. */
import { describe, expect, it } from 'vitest';
import { queryOfAddress } from '../../../../src/web/runs/requests.js';
import {
  NOTHING_ASKED,
  askedIn,
  filterCount,
  listPath,
  queryFor,
  type Asked,
} from '../../../../src/web/page/log/asked.js';

const ALL: Asked = {
  text: 'door, open & "shut"',
  filters: { floor: 'dairy hall', grade: 'fail', since: '2031-03-01' },
  tags: ['night', 'wet floor'],
  sortBy: 'crop',
  rising: true,
  selected: [12, 3],
  edited: 12,
};

describe('the address of the log', () => {
  it('holds all that is asked for, so that it can be sent and gone back to', () => {
    expect(askedIn(queryFor(ALL))).toEqual(ALL);
    expect(askedIn(new URLSearchParams(queryFor(ALL).toString()))).toEqual(ALL);
  });

  it('is bare when nothing is asked', () => {
    expect(queryFor(NOTHING_ASKED).toString()).toBe('');
    expect(askedIn(new URLSearchParams())).toEqual(NOTHING_ASKED);
  });

  it('keeps the way that a column is sorted', () => {
    const falling = { ...NOTHING_ASKED, sortBy: 'crop', rising: false } as const;
    expect(askedIn(queryFor(falling))).toEqual(falling);
    const oldest = { ...NOTHING_ASKED, rising: true };
    expect(askedIn(queryFor(oldest))).toEqual(oldest);
  });

  it('passes over what it does not know', () => {
    const query = new URLSearchParams('sort=colour&selected=a,0&run=-2&wheels=x&floor=+&tag=');
    expect(askedIn(query)).toEqual(NOTHING_ASKED);
  });
});

describe('the question to the server', () => {
  it('holds the filters and the words, neither order nor selection', () => {
    const asked = queryOfAddress(`http://127.0.0.1${listPath(ALL)}`);
    expect(asked).toMatchObject({
      text: ALL.text,
      floor: 'dairy hall',
      grade: 'fail',
      tags: ['night', 'wet floor'],
    });
    expect(asked.ids).toBeUndefined();
    expect(listPath({ ...NOTHING_ASKED, text: '  ' })).toBe('/api/runs');
  });

  it('counts the filters that are set', () => {
    expect(filterCount(ALL)).toBe(5);
    expect(filterCount(NOTHING_ASKED)).toBe(0);
  });
});
