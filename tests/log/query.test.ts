import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openLog, parseLogQuery, type RunLog } from '../../src/log/index.js';
import { madeUpEntry } from './support/made-up-entry.js';
import { temporaryFolder } from './support/temporary-folder.js';

const { fresh } = temporaryFolder();

/** Midday of a day of this place's calendar. */
function midday(day: number): string {
  return new Date(2031, 2, day, 12).toISOString();
}

describe('a query of the log', () => {
  let log: RunLog;
  beforeAll(() => {
    log = openLog(fresh());
    const hall = { floor: 'Dairy Hall', location: 'old dairy', operator: 'Mara' };
    log.add(
      madeUpEntry({
        createdAt: midday(1),
        grade: 'fail',
        clipFile: 'A004_C012.mov',
        clipSha256: `aa11bb${'0'.repeat(58)}`,
        pass: { ...hall, lane: '1', setup: 'soft', direction: 'out', tags: ['night', 'wet'] },
      }),
    );
    log.add(
      madeUpEntry({
        createdAt: midday(2),
        grade: 'pass',
        deliveryName: 'big screen',
        pass: { ...hall, lane: '2', setup: 'hard', direction: 'back', mark: 'noGood', tags: ['night'] },
      }),
    );
    log.add(
      madeUpEntry({
        createdAt: midday(3),
        grade: 'marginal',
        pass: {
          floor: 'Bühne, 2. Stock',
          wheels: '80 mm',
          track: 'plywood',
          roll: 'A004',
          slate: '27B',
          take: '2',
          notes: 'loud joint at 2 m; 100% sure',
          production: 'Night Shift',
          unit: 'second',
        },
      }),
    );
    log.add(madeUpEntry({ createdAt: midday(4), grade: 'unmeasurable' }));
  });
  afterAll(() => log.close());

  it.each([
    ['', [4, 3, 2, 1]],
    ['floor=dairy hall', [2, 1]],
    ['floor=DAIRY HALL, setup=soft', [1]],
    ['floor=dairy', []],
    ['floor="bühne, 2. stock"', [3]],
    ['floor="BU\u0308HNE, 2. Stock"', [3]],
    ['location=old dairy, lane=2', [2]],
    ['direction=back', [2]],
    ['operator=mara, mark=no-good', [2]],
    ['wheels=80 mm, track=plywood, production=night shift, unit=second', [3]],
    ['roll=a004, slate=27b, take=2', [3]],
    ['delivery=Big Screen', [2]],
    ['delivery=bigscreen', [2]],
    ['grade=fail', [1]],
    ['grade=Unmeasurable', [4]],
    ['tag=night', [2, 1]],
    ['tag=night, tag=WET', [1]],
    ['tag=rail', []],
    ['clip=c012', [1]],
    ['clip=AA11BB', [1]],
    ['clip=aa11bc', []],
    ['text=joint', [3]],
    ['text=hall wet', [1]],
    ['text=100%', [3]],
    ['text=100_', []],
    ['since=2031-03-03', [4, 3]],
    ['until=2031-03-02', [2, 1]],
    ['since=2031-03-02, until=2031-03-03', [3, 2]],
    ['since=2031-03-03T11:00', [4, 3]],
    ['limit=2', [4, 3]],
    ['1, 3', [3, 1]],
    ['id=1, floor=dairy hall', [1]],
    ['99', []],
  ])('"%s" finds the runs %j, newest first', (text, ids) => {
    expect(log.list(parseLogQuery(text)).map(({ id }) => id)).toEqual(ids);
  });

  it.each([
    [`floor=x' OR 1=1 --`],
    [`text='); DROP TABLE run; --`],
    [`tag=") UNION SELECT 1 --`],
    [`clip=%`],
    [`setup=soft" OR ""="`],
  ])('takes what looks like SQL for a name: "%s" finds nothing and harms nothing', (text) => {
    expect(log.list(parseLogQuery(text))).toEqual([]);
    expect(log.list()).toHaveLength(4);
  });

  it('stores what looks like SQL as it was written', () => {
    const own = openLog(fresh());
    const name = `x'); DELETE FROM run; --`;
    own.add(madeUpEntry({ pass: { floor: name, tags: [name] } }));
    expect(own.list({ floor: name, tags: [name] })).toHaveLength(1);
    own.close();
  });
});

describe('a query that cannot be read', () => {
  it.each([
    ['flor=hall', /cannot be asked for "flor"; the nearest is "floor"/],
    ['hall', /"hall" is neither the number of a run nor a condition/],
    ['floor=', /"floor=" will not do/],
    ['grade=good', /must be one of pass, marginal, fail, unmeasurable/],
    ['since=yesterday', /must be a day like 2031-03-14/],
    ['since=2031-02-30', /must be a day/],
    ['since=2031-13-01', /must be a day/],
    ['limit=0', /whole number from 1/],
    ['floor=a, floor=b', /"floor" is asked for twice/],
  ])('is refused in one sentence: "%s"', (text, sentence) => {
    expect(() => parseLogQuery(text)).toThrow(sentence);
  });
});
