/** How far a batch is, how many run at once, and the words for it. */
import { describe, expect, it } from 'vitest';
import { MEASUREMENT_BYTES, HowFar, layOut, thisMachine, type ClipOutcome } from '../../src/batch/index.js';
import { clipsAtOnce } from '../../src/cli/clips-at-once.js';
import {
  batchTable,
  endLine,
  failureLine,
  stateLine,
  summaryLine,
  timeInWords,
} from '../../src/cli/batch-words.js';
import { clipOf, FIGURES } from './support/made-up-batch.js';

const MEASURED: ClipOutcome = {
  kind: 'measured',
  folder: 'reports/a',
  measured: { figures: FIGURES, sha256: '', run: 4, notices: [], document: null },
};
const failed = (code: 'clip-unreadable' | 'interrupted'): ClipOutcome => ({
  kind: 'failed',
  failure: { code, sentence: 'It is empty; copy it again.', status: 3 },
});

describe('how many at once', () => {
  it('goes by cores, then by memory, and always is one', () => {
    const freeBytes = 64e9;
    expect(layOut({ cores: 8, freeBytes })).toEqual({ atOnce: 8, threads: 1 });
    expect(layOut({ cores: 8, freeBytes: (2 * MEASUREMENT_BYTES) / 0.85 + 1 })).toEqual({
      atOnce: 2,
      threads: 4,
    });
    expect(layOut({ cores: 1, freeBytes: 1e6 })).toEqual({ atOnce: 1, threads: 1 });
  });

  it('is what the person asks for, with no more threads than cores', () => {
    const freeBytes = 64e9;
    expect(layOut({ cores: 8, freeBytes }, 3)).toEqual({ atOnce: 3, threads: 2 });
    expect(layOut({ cores: 2, freeBytes }, 3)).toEqual({ atOnce: 3, threads: 1 });
  });

  it('is brought down to what cores and memory carry, which is told in a sentence', () => {
    const said: string[] = [];
    const asked = (jobs: string, cores: number, freeBytes: number): number =>
      clipsAtOnce(jobs, (sentence) => said.push(sentence), { cores, freeBytes }).atOnce;
    expect([asked('200', 2, 20e9), asked('4', 2, 20e9), asked('4', 8, 2e9), asked('2', 1, 1e6)]).toEqual([
      ...[4, 4, 2, 1],
    ]);
    expect(said).toEqual([
      '"--jobs 200" is more than this machine carries: 2 cores, and free memory for 22 at 0.75 GB a clip. At most 4 are measured at once.',
      '"--jobs 4" is more than this machine carries: 8 cores, and free memory for 2 at 0.75 GB a clip. At most 2 are measured at once.',
      '"--jobs 2" is more than this machine carries: 1 core, and free memory for 0 at 0.75 GB a clip. At most 1 is measured at once.',
    ]);
    for (const none of ['0', '1.5', '-1', 'many', ''])
      expect(() => asked(none, 2, 20e9)).toThrow(/whole number/);
  });

  it('knows this machine', () => {
    const { cores, freeBytes } = thisMachine();
    expect(cores).toBeGreaterThanOrEqual(1);
    expect(freeBytes).toBeGreaterThan(1e6);
  });
});

describe('how far a batch is', () => {
  it('counts clips, and foretells the rest from the bytes that are done', () => {
    let nowMs = 0;
    const howFar = new HowFar(() => nowMs);
    const [a, b, c] = ['a.mov', 'b.mov', 'c.mov'].map((name) => clipOf(name));
    howFar.found([a, b, c]);
    expect(howFar.state()).toMatchObject({ found: 3, waiting: 3, leftS: null });
    howFar.begun(a);
    nowMs = 10_000;
    howFar.ended(a, MEASURED);
    // Time in which nothing is measured does not count.
    nowMs = 60_000;
    howFar.begun(b);
    howFar.progress(b, 'track', 30, 60);
    expect(howFar.state().leftS).toBeCloseTo(10 * (1.61 / 1.39), 6);
    expect(stateLine(howFar.state(), 200)).toBe(
      '1 of 3 done; running: b.mov following features 50 %; 1 waiting; about 12 s left',
    );
    expect([...stateLine(howFar.state(), 20)]).toHaveLength(20);
    howFar.ended(b, failed('clip-unreadable'));
    howFar.ended(c, { kind: 'same', as: a.path });
    expect(howFar.state()).toMatchObject({ measured: 1, failed: 1, passedBy: 1, waiting: 0, leftS: null });
  });

  it('tells times in the unit that people read', () => {
    expect([12.2, 150, 4000, 7200].map(timeInWords)).toEqual(['13 s', '3 min', '67 min', '2 h 0 min']);
  });
});

describe('the words at the end', () => {
  const result = new Map(
    [
      ['b10.mov', failed('clip-unreadable')],
      ['b9.mov', MEASURED],
      ['c\u001b[2J.mov', { kind: 'same', as: 'cards/b9.mov' }],
      ['d.mov', failed('interrupted')],
      [
        'e.mov',
        {
          kind: 'kept',
          kept: {
            run: 2,
            figures: { ...FIGURES, grade: 'unmeasurable', cropPercent: null, worst: null, floorClass: null },
            document: null,
            folder: null,
          },
        },
      ],
    ].map(([name, outcome]) => {
      const clip = clipOf(name as string);
      return [clip.path, { clip, outcome: outcome as ClipOutcome }];
    }),
  );

  it('are a line for each clip, by name, that cannot steer the terminal', () => {
    expect(batchTable(result)).toBe(
      [
        'clip             verdict       crop %  shakes most     floor  outcome',
        'cards/b9.mov     pass          3.1     roll 0.063 deg  A-2    measured, run 4',
        'cards/c?[2J.mov  -             -       -               -      same bytes as cards/b9.mov',
        'cards/d.mov      -             -       -               -      stopped',
        'cards/e.mov      unmeasurable  -       -               -      in the log, run 2',
        '',
      ].join('\n'),
    );
  });

  it('are how many became what', () => {
    expect(summaryLine(result, 2)).toBe(
      '7 clips: 1 measured, 1 in the log already, 1 the same as another, 1 failed, 1 stopped, 2 not begun.',
    );
    expect(summaryLine(new Map(), 0)).toBe('No clip came.');
  });

  it('are a sentence for each failure, with its clip and its code', () => {
    const { failure } = failed('clip-unreadable') as ClipOutcome & { kind: 'failed' };
    expect(failureLine('a.mov', failure)).toBe('a.mov: It is empty; copy it again. [clip-unreadable]');
    expect(failureLine('a.mov', { ...failure, sentence: 'No "a.mov".' })).toBe(
      'No "a.mov". [clip-unreadable]',
    );
    expect(endLine(clipOf('a.mov'), MEASURED)).toBe('a.mov: pass, crop 3.1 %');
    expect(endLine(clipOf('a.mov'), failed('clip-unreadable'))).toBe(
      'cards/a.mov: It is empty; copy it again. [clip-unreadable]',
    );
    const doubted = structuredClone(MEASURED);
    expect(
      endLine(clipOf('a.mov'), {
        ...doubted,
        measured: { ...doubted.measured, figures: { ...doubted.measured.figures, isDoubted: true } },
      }),
    ).toBe('a.mov: pass, in doubt, crop 3.1 %');
  });
});
