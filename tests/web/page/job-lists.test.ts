/** Jobs by what they are at. */
import { describe, expect, test } from 'vitest';
import type { Job } from '../../../src/web/api.js';
import { endedOrder, jobLists } from '../../../src/web/page/queue/job-lists.js';

const job = (id: string, state: Job['state'], more: Partial<Job> = {}): Job => ({
  id,
  kind: 'measure',
  state,
  clip: 'c1',
  clipName: 'dairy-hall.mov',
  settings: {},
  ahead: 0,
  stage: null,
  done: 0,
  total: null,
  share: 0,
  framesPerS: null,
  leftS: null,
  queuedAt: '2026-05-04T09:00:00Z',
  isAnew: false,
  startedAt: null,
  endedAt: null,
  run: null,
  grade: null,
  sentence: null,
  problem: null,
  ...more,
});

describe('the lists', () => {
  test('those that wait stand by their turn, those that ended newest first', () => {
    const lists = jobLists([
      job('later', 'queued', { ahead: 2 }),
      job('first', 'done', { endedAt: '2026-05-04T09:01:00Z' }),
      job('now', 'running'),
      job('next', 'queued', { ahead: 1 }),
      job('second', 'failed', { endedAt: '2026-05-04T09:02:00Z' }),
    ]);
    const ids = (jobs: readonly Job[]): string[] => jobs.map(({ id }) => id);
    expect(ids(lists.running)).toEqual(['now']);
    expect(ids(lists.queued)).toEqual(['next', 'later']);
    expect(ids(lists.ended)).toEqual(['second', 'first']);
  });
});

describe('the end of an order', () => {
  test('is told when the last of its jobs has ended, of the last of them', () => {
    const jobs = [job('a', 'done'), job('b', 'running'), job('other', 'done')];
    expect(endedOrder(['a', 'b'], jobs)).toBeNull();
    expect(endedOrder(['a', 'b'], [jobs[0], job('b', 'failed')])?.id).toBe('b');
  });

  test('is not told before the jobs are known, nor where nothing was ordered', () => {
    expect(endedOrder(['a'], [])).toBeNull();
    expect(endedOrder([], [job('a', 'done')])).toBeNull();
  });
});
