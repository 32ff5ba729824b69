/** Many clips with a measurement that is made up: what is begun, what is passed by, how it ends. */
import { describe, expect, it } from 'vitest';
import { runBatch, type ClipOutcome } from '../../src/batch/batch.js';
import { bunch, clipOf, FIGURES, madeUpBatch } from './support/made-up-batch.js';

const SUM = 'cd'.repeat(32);
const NAMES = ['a.mov', 'b.mov', 'c.mov', 'd.mov', 'e.mov'];

describe('a batch', () => {
  it('measures all clips in turn, never more at once than asked', async () => {
    const batch = madeUpBatch({ atOnce: 2 });
    const result = await runBatch(bunch(...NAMES.map((name) => clipOf(name))), batch.means);
    expect(batch.begun).toEqual(NAMES);
    expect(batch.most()).toBe(2);
    expect([...result.values()].map(({ outcome }) => outcome.kind)).toEqual(NAMES.map(() => 'measured'));
    expect(result.get('cards/b.mov')?.outcome).toMatchObject({ folder: 'reports/b.mov' });
  });

  it('passes by what the log has, and measures the same bytes once', async () => {
    const kept = { run: 7, figures: FIGURES, document: null, folder: 'reports/old' };
    const batch = madeUpBatch({
      sums: { 'b.mov': SUM, 'c.mov': 'ef'.repeat(32), 'd.mov': 'ef'.repeat(32) },
      log: new Map([[SUM, kept]]),
    });
    const result = await runBatch(bunch(...NAMES.map((name) => clipOf(name))), batch.means);
    expect(batch.begun).toEqual(['a.mov', 'c.mov', 'e.mov']);
    expect(result.get('cards/b.mov')?.outcome).toEqual({ kind: 'kept', kept });
    expect(result.get('cards/d.mov')?.outcome).toEqual({ kind: 'same', as: 'cards/c.mov' });
  });

  it('goes on where clips fail, before and while they are measured', async () => {
    const batch = madeUpBatch({ acts: { 'a.mov': 'fails' } });
    const result = await runBatch(bunch(clipOf('a.mov'), clipOf('gone.mov'), clipOf('b.mov')), batch.means);
    const failed = (name: string): ClipOutcome | undefined => result.get(`cards/${name}`)?.outcome;
    expect(failed('a.mov')).toMatchObject({ failure: { code: 'clip-unreadable' } });
    expect(failed('gone.mov')).toMatchObject({ failure: { code: 'clip-missing', status: 3 } });
    expect(failed('b.mov')).toMatchObject({ kind: 'measured' });
  });

  it('measures a clip that failed again when it comes anew, and tells what became of it last', async () => {
    let acts: Record<string, 'fails'> = { 'a.mov': 'fails' };
    const batch = madeUpBatch({ acts: new Proxy({}, { get: (_, name) => acts[String(name)] }) });
    async function* twice(): AsyncGenerator<[ReturnType<typeof clipOf>]> {
      yield [clipOf('a.mov')];
      while (batch.ended.length === 0) await new Promise((resolve) => setTimeout(resolve, 2));
      acts = {};
      yield [clipOf('a.mov')];
    }
    const result = await runBatch(twice(), batch.means);
    expect(batch.ended).toEqual([
      ['a.mov', 'failed'],
      ['a.mov', 'measured'],
    ]);
    expect(result.get('cards/a.mov')?.outcome.kind).toBe('measured');
  });

  it('finishes what runs and begins no more when it is to end', async () => {
    const batch = madeUpBatch({
      onBegun: ({ drain }, name) => (name === 'b.mov' ? drain.abort() : undefined),
    });
    const result = await runBatch(bunch(...NAMES.map((name) => clipOf(name))), batch.means);
    expect(batch.begun).toEqual(['a.mov', 'b.mov']);
    expect([...result.values()].map(({ outcome }) => outcome.kind)).toEqual(['measured', 'measured']);
  });

  it('gives up what runs at the second word', async () => {
    const batch = madeUpBatch({
      acts: { 'a.mov': 'waits', 'b.mov': 'waits' },
      onBegun({ drain, giveUp }, name) {
        if (name !== 'b.mov') return;
        drain.abort();
        setTimeout(() => giveUp.abort(), 5);
      },
    });
    const result = await runBatch(bunch(...NAMES.map((name) => clipOf(name))), batch.means);
    expect([...result.values()].map(({ outcome }) => outcome)).toEqual(
      [1, 2].map(
        () =>
          expect.objectContaining({
            failure: expect.objectContaining({ code: 'interrupted' }) as unknown,
          }) as unknown,
      ),
    );
  });
});
