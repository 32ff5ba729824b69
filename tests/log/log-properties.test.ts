/**
 * The log against a plain list that is kept beside it: whatever is added, described, tagged, taken out and asked for, both give the same
 * runs. What the crew writes is data, whatever signs it holds.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  logCsv,
  openLog,
  parseLogQuery,
  queryOf,
  type LogQuery,
  type LogRow,
  type RunLog,
} from '../../src/log/index.js';
import { TrundleError, type PassSheet } from '../../src/run/index.js';
import { readCsv } from '../support/read-csv.js';
import { madeUpEntry } from './support/made-up-entry.js';
import { temporaryFolder } from './support/temporary-folder.js';

const { fresh } = temporaryFolder();

/** Signs that mean something to SQL, LIKE, GLOB, JSON, paths, shells, terminals and C. */
const HOSTILE = [
  `O'Brien "hall"`,
  `'; DROP TABLE run; --`,
  `" OR 1=1 --`,
  '100% sure_thing',
  '%',
  '_',
  '*?[a-z]',
  'a\\b\\',
  'nul\u0000inside',
  '\u0000',
  'emoji 🎥🏽‍♀️',
  'עברית \u202eabc',
  'e\u0301té',
  'ÉTÉ',
  'İstanbul ıi',
  'straße STRASSE',
  'ﬁlm',
  '{"json":[1]}',
  '__proto__',
  'null',
  '=1+1',
  'a\nb\r\nc',
  '-- x',
  ',"',
] as const;

/** The database keeps no NUL: U+FFFD stands in its place, as for anything that is no character. */
const stored = <T>(value: T): T => JSON.parse(JSON.stringify(value).replaceAll('\\u0000', '\ufffd')) as T;

/** A name as a sheet may hold it; few of them, so that runs share them and queries meet them. */
const written = fc
  .oneof(
    {
      weight: 6,
      arbitrary: fc.constantFrom('dairy hall', 'Dairy HALL', 'e\u0301té', 'ÉTÉ', 'ﬁlm', 'FILM', 'nul\u0000'),
    },
    { weight: 3, arbitrary: fc.constantFrom(...HOSTILE) },
    { weight: 1, arbitrary: fc.string({ unit: 'binary', minLength: 1, maxLength: 12 }) },
  )
  .filter((text) => text.trim() !== '' && text === text.trim());
const tags = fc.array(fc.oneof({ weight: 3, arbitrary: fc.constantFrom('night', 'wet', 'Night') }, written), {
  maxLength: 3,
});
const sheet: fc.Arbitrary<PassSheet> = fc
  .record(
    {
      floor: written,
      setup: written,
      notes: written,
      lane: written,
      tags,
      passNumber: fc.integer({ min: 1, max: 9999 }),
    },
    { requiredKeys: [] },
  )
  .map((entries) => ({ ...entries }));
const DAY_MS = 86_400_000;
const BEGIN_MS = Date.UTC(2031, 2, 1);
const moment = fc.integer({ min: 0, max: 8 }).map((half) => BEGIN_MS + (half * DAY_MS) / 2);
const GRADES = ['pass', 'marginal', 'fail', 'unmeasurable'] as const;
const kept = fc.record({
  pass: sheet,
  atMs: moment,
  grade: fc.constantFrom(...GRADES),
  clipFile: fc.oneof(fc.constantFrom('A004_C012.mov', 'a004%.mov', "it's.mov"), written),
  clipSha256: fc.constantFrom('a', 'ab', '0').map((digit) => digit.repeat(64 / digit.length)),
  deliveryName: fc.option(fc.oneof(fc.constantFrom('Web HD', 'web-hd', '%%', '__'), written), {
    nil: undefined,
  }),
});

type Step =
  | { readonly do: 'add'; readonly run: typeof kept extends fc.Arbitrary<infer T> ? T : never }
  | {
      readonly do: 'describe';
      readonly which: number;
      readonly floor: string | null;
      readonly notes: string | null;
    }
  | {
      readonly do: 'tag';
      readonly which: number;
      readonly add: readonly string[];
      readonly remove: readonly string[];
    }
  | { readonly do: 'remove'; readonly which: readonly number[] };

const which = fc.nat(20);
const step: fc.Arbitrary<Step> = fc.oneof(
  { weight: 5, arbitrary: fc.record({ do: fc.constant('add' as const), run: kept }) },
  {
    weight: 2,
    arbitrary: fc.record({
      do: fc.constant('describe' as const),
      which,
      floor: fc.option(written),
      notes: fc.option(written),
    }),
  },
  { weight: 2, arbitrary: fc.record({ do: fc.constant('tag' as const), which, add: tags, remove: tags }) },
  {
    weight: 1,
    arbitrary: fc.record({
      do: fc.constant('remove' as const),
      which: fc.array(which, { minLength: 1, maxLength: 2 }),
    }),
  },
);

const query: fc.Arbitrary<LogQuery> = fc
  .record(
    {
      ids: fc.array(fc.integer({ min: 1, max: 12 }), { maxLength: 5 }),
      floor: written,
      setup: written,
      delivery: fc.oneof(fc.constantFrom('WEB_HD', '%', '__'), written),
      tags,
      grade: fc.constantFrom(...GRADES),
      clip: fc.oneof(
        { weight: 4, arbitrary: fc.constantFrom('c012', 'A004%', 'aaaaa', 'aaaaaa', 'ABABABA') },
        written,
      ),
      sinceMs: moment,
      beforeMs: fc.oneof(moment, fc.constant(Date.UTC(10_000, 0, 1))),
      text: fc
        .array(fc.oneof(fc.constantFrom('hall', 'c012', 'nul'), written), { maxLength: 2 })
        .map((words) => words.join(' ')),
      limit: fc.integer({ min: 1, max: 8 }),
    },
    { requiredKeys: [] },
  )
  // Each condition by itself finds something; all of them at once hardly ever do.
  .chain((all) =>
    fc
      .subarray(Object.entries(all), { maxLength: Math.min(2, Object.keys(all).length) })
      .map((some) => Object.fromEntries(some) as LogQuery),
  );

/** A run as the model holds it. */
interface Known {
  readonly id: number;
  readonly createdAt: string;
  readonly grade: (typeof GRADES)[number];
  readonly clipFile: string;
  readonly clipSha256: string;
  readonly deliveryName: string | null;
  pass: PassSheet;
}

/** Case and the coding of accents do not count; Unicode's compatibility forms are one. */
const folded = (text: string): string => stored(text).normalize('NFKC').toUpperCase().toLowerCase();
/** What is left of the name of a delivery without signs. */
const lettersOf = (text: string): string => text.toLowerCase().replace(/[^\p{L}\p{N}]/gu, '');

function fits(run: Known, asked: LogQuery): boolean {
  const { pass } = run;
  const is = (entry: string | undefined | null, wanted: string | undefined): boolean =>
    wanted === undefined || (typeof entry === 'string' && folded(entry) === folded(wanted));
  const isDelivery =
    is(run.deliveryName, asked.delivery) ||
    (run.deliveryName !== null &&
      lettersOf(asked.delivery ?? '') !== '' &&
      lettersOf(run.deliveryName) === lettersOf(asked.delivery ?? ''));
  const tagsOf = pass.tags ?? [];
  const texts = [run.clipFile, pass.floor, pass.setup, pass.notes, pass.lane, ...tagsOf].map((text) =>
    folded(text ?? ''),
  );
  const atMs = Date.parse(run.createdAt);
  return (
    (asked.ids?.includes(run.id) ?? true) &&
    is(pass.floor, asked.floor) &&
    is(pass.setup, asked.setup) &&
    isDelivery &&
    (asked.tags ?? []).every((tag) => tagsOf.some((own) => is(own, tag))) &&
    (asked.grade ?? run.grade) === run.grade &&
    (asked.clip === undefined ||
      folded(run.clipFile).includes(folded(asked.clip)) ||
      (/^[0-9a-f]{6,64}$/i.test(asked.clip) && run.clipSha256.startsWith(asked.clip.toLowerCase()))) &&
    atMs >= (asked.sinceMs ?? -Infinity) &&
    atMs < (asked.beforeMs ?? Infinity) &&
    folded(asked.text ?? '')
      .split(/\s+/)
      .every((word) => texts.some((text) => text.includes(word)))
  );
}

function answer(runs: readonly Known[], asked: LogQuery): Known[] {
  return runs
    .filter((run) => fits(run, asked))
    .sort((a, b) => (a.createdAt === b.createdAt ? b.id - a.id : a.createdAt < b.createdAt ? 1 : -1))
    .slice(0, asked.limit);
}

function without(pass: PassSheet, ...names: readonly (keyof PassSheet)[]): PassSheet {
  return Object.fromEntries(
    Object.entries(pass).filter(([name]) => !names.includes(name as keyof PassSheet)),
  );
}

function sheetWith(pass: PassSheet, tagNames: readonly string[]): PassSheet {
  const entries = without(pass, 'tags');
  const names = [...new Set(stored(tagNames))].sort();
  return names.length === 0 ? entries : { ...entries, tags: names };
}

function take(log: RunLog, runs: Known[], order: Step): void {
  const at = (index: number): Known => runs[index % runs.length];
  if (order.do === 'add') {
    const { pass, atMs, ...rest } = order.run;
    const createdAt = new Date(atMs).toISOString();
    const { id } = log.add(madeUpEntry({ ...rest, pass, createdAt, series: null }));
    expect(runs.every((run) => run.id < id)).toBe(true);
    runs.push(
      stored({
        ...rest,
        id,
        createdAt,
        deliveryName: rest.deliveryName ?? null,
        pass: sheetWith(pass, pass.tags ?? []),
      }),
    );
  } else if (runs.length === 0) {
    expect(log.list()).toEqual([]);
  } else if (order.do === 'describe') {
    const run = at(order.which);
    const others = without(run.pass, 'floor', 'notes');
    const { floor, notes } = order;
    run.pass = stored({ ...others, ...(floor !== null && { floor }), ...(notes !== null && { notes }) });
    expect(log.describe(run.id, { floor, notes }).pass).toEqual(run.pass);
  } else if (order.do === 'tag') {
    const run = at(order.which);
    const names = [...(run.pass.tags ?? []), ...order.add].filter((name) => !order.remove.includes(name));
    run.pass = sheetWith(run.pass, names);
    expect(log.tag(run.id, order.add, order.remove).pass).toEqual(run.pass);
  } else {
    const ids = order.which.map((index) => at(index).id);
    expect(new Set(log.remove(ids).map(({ id }) => id))).toEqual(new Set(ids));
    runs.splice(0, runs.length, ...runs.filter(({ id }) => !ids.includes(id)));
    expect(() => log.get(ids[0])).toThrow(`There is no run ${ids[0]} in the log`);
  }
}

const told = ({ id, pass, clipFile, delivery, grade }: LogRow): unknown => ({
  id,
  pass,
  clipFile,
  name: delivery.name,
  grade,
});

describe('the log', () => {
  it('gives the runs that a plain list gives, after any changes and for any question', () => {
    fc.assert(
      fc.property(
        fc.array(step, { minLength: 3, maxLength: 14 }),
        fc.array(query, { minLength: 40, maxLength: 40 }),
        (steps, queries) => {
          const log = openLog(fresh());
          try {
            const runs: Known[] = [];
            for (const order of steps) take(log, runs, order);
            for (const asked of [{}, ...queries]) {
              const wanted = answer(runs, asked).map(({ id, pass, clipFile, deliveryName: name, grade }) => ({
                id,
                pass,
                clipFile,
                name,
                grade,
              }));
              expect(log.list(asked).map(told), JSON.stringify(asked)).toEqual(wanted);
            }
            for (const run of runs) expect(log.get(run.id).run.pass).toEqual(run.pass);
            const overview = log.overview();
            expect(overview.runs).toBe(runs.length);
            expect(new Set(overview.tags)).toEqual(new Set(runs.flatMap(({ pass }) => pass.tags ?? [])));
            expect(new Set(overview.names.floor)).toEqual(
              new Set(runs.flatMap(({ pass }) => pass.floor ?? [])),
            );
            // Page by page nothing is lost and nothing comes twice: a shorter list is the beginning of a longer one.
            const whole = log.list().map(({ id }) => id);
            for (let limit = 0; limit <= whole.length; limit++)
              expect(log.list({ limit }).map(({ id }) => id)).toEqual(whole.slice(0, limit));
          } finally {
            log.close();
          }
        },
      ),
      { seed: 91, numRuns: 20 },
    );
  });

  it('comes back from its CSV by a reader of RFC 4180 that knows nothing of it', () => {
    const log = openLog(fresh());
    fc.assert(
      fc.property(kept, ({ atMs, ...run }) => {
        const createdAt = new Date(atMs).toISOString();
        const { id } = log.add(madeUpEntry({ ...run, createdAt, series: null }));
        const [row] = log.list({ ids: [id] });
        const [names, cells, ...none] = readCsv(logCsv([row]));
        expect(none).toEqual([]);
        // Spreadsheets run what begins like a formula: such text is led by one apostrophe more.
        const read = Object.fromEntries(
          names.map((name, index) => [name, cells[index].replace(/^'('*[=+\-@\t\r\n＝＋－＠])/, '$1')]),
        );
        const { floor = '', setup = '', notes = '', lane = '', passNumber = '' } = stored(run.pass);
        expect(read).toMatchObject({
          id: String(id),
          floor,
          setup,
          notes,
          lane,
          passNumber: String(passNumber),
          clip: stored(run.clipFile),
          delivery: stored(run.deliveryName ?? ''),
          grade: run.grade,
          cropPercent: String(row.cropPercent),
        });
      }),
      { seed: 92, numRuns: 60 },
    );
    log.close();
  });
});

describe('a question to the log', () => {
  it('of any text is read or refused, and its values are taken as they stand', () => {
    fc.assert(
      fc.property(
        fc.oneof(fc.string({ unit: 'binary' }), fc.stringMatching(/^[a-z=",0-9 -]{0,40}$/)),
        (text) => {
          try {
            expect(typeof parseLogQuery(text)).toBe('object');
          } catch (error) {
            if (!(error instanceof TrundleError)) throw error;
            expect(['argument-unknown', 'argument-invalid']).toContain(error.code);
          }
        },
      ),
      { seed: 93, numRuns: 600 },
    );
    fc.assert(
      fc.property(written, written, (floor, tag) => {
        expect(
          queryOf([
            ['floor', floor],
            ['tag', tag],
            ['tag', floor],
          ]),
        ).toEqual({ floor, tags: [tag, floor] });
        // Quotes hold a value together; one that has none itself may stand in them.
        if (!floor.includes('"')) expect(parseLogQuery(`floor="${floor}"`)).toEqual({ floor });
      }),
      { seed: 94, numRuns: 200 },
    );
  });
});
