/** Runs of the log as the page sorts, selects, compares and describes them. */
import { describe, expect, it } from 'vitest';
import type { PassSheet } from '../../../../src/run/index.js';
import type { RunRow } from '../../../../src/web/api.js';
import { hasLanePlan, offersFor } from '../../../../src/web/page/log/compare-offers.js';
import { toggled, withRange } from '../../../../src/web/page/log/selection.js';
import { changeFrom, fieldsOf, tagsIn } from '../../../../src/web/page/log/sheet-change.js';
import {
  cropLimitWords,
  cropWords,
  leftLimitWords,
  passWords,
} from '../../../../src/web/page/log/run-words.js';
import { shortName } from '../../../../src/web/page/log/short-name.js';
import { sortRuns } from '../../../../src/web/page/log/sort-runs.js';
import type { SortBy } from '../../../../src/web/page/log/asked.js';

const row = (id: number, part: Partial<RunRow> = {}): RunRow => ({
  id,
  createdAt: `2031-03-14T0${id}:00:00.000Z`,
  clipFile: `hall-${id}.mp4`,
  clipSha256: String(id).padStart(64, '0'),
  rangeS: [0, 6],
  pass: {},
  speedMps: 0.3,
  focalLengthMm: 35,
  delivery: { name: null, widthPx: 1920, heightPx: 1080, maxCropPercent: 5, maxResidualPx: 0.83 },
  grade: 'pass',
  doubts: [],
  cropPercent: id,
  coverable: true,
  residualPx: 0.1 * id,
  panRmsDeg: null,
  tiltRmsDeg: null,
  rollRmsDeg: null,
  surfaceClass: 'B',
  toolVersion: '1.0.0',
  readable: true,
  reportFolder: null,
  hasSeries: true,
  clipKnown: true,
  ...part,
});

const order = (runs: readonly RunRow[], by: SortBy, rising: boolean): number[] =>
  sortRuns(runs, by, rising).map(({ id }) => id);

describe('sorting', () => {
  const runs = [
    row(1, { grade: 'fail', pass: { floor: 'plywood loft', lane: '10' } }),
    row(2, { grade: 'unmeasurable', residualPx: null, surfaceClass: null }),
    row(3, { cropPercent: 0.2, pass: { floor: 'plywood loft', lane: '2' } }),
    row(4, { coverable: false, grade: 'fail', surfaceClass: 'A-3' }),
  ];

  it('puts the newest first, and the oldest where asked', () => {
    expect(order(runs, 'measured', false)).toEqual([4, 3, 2, 1]);
    expect(order(runs, 'measured', true)).toEqual([1, 2, 3, 4]);
  });

  it('puts what is not known last either way, and a crop past half behind every other', () => {
    expect(order(runs, 'crop', true)).toEqual([3, 1, 4, 2]);
    expect(order(runs, 'crop', false)).toEqual([4, 1, 3, 2]);
    expect(order(runs, 'surface', true)[3]).toBe(2);
    expect(order(runs, 'surface', false)[3]).toBe(2);
  });

  it('counts lanes as people do', () => {
    expect(order(runs, 'floor', true).slice(2)).toEqual([3, 1]);
  });

  it('puts the best verdict first', () => {
    expect(order(runs, 'grade', true)).toEqual([3, 1, 4, 2]);
  });
});

describe('selecting', () => {
  it('adds and takes off one run', () => {
    expect(toggled([4], 7)).toEqual([4, 7]);
    expect(toggled([4, 7], 4)).toEqual([7]);
  });

  it('takes all from the last click on, in either direction, each once', () => {
    const listed = [9, 8, 7, 6];
    expect(withRange([8], listed, 8, 6, true)).toEqual([8, 7, 6]);
    expect(withRange([6], listed, 6, 9, true)).toEqual([6, 9, 8, 7]);
    expect(withRange([9, 8, 7, 6], listed, 9, 7, false)).toEqual([6]);
  });

  it('takes the one run where the last click is listed no more, or there was none', () => {
    expect(withRange([], [9, 8], 3, 8, true)).toEqual([8]);
    expect(withRange([], [9, 8], null, 8, true)).toEqual([8]);
  });
});

describe('what can be compared', () => {
  it('is offered where runs may differ', () => {
    const runs = [
      row(1, { pass: { setup: 'soft', floor: 'dairy hall' } }),
      row(2, { pass: { setup: 'hard', floor: 'Dairy Hall' } }),
    ];
    expect(offersFor(runs)).toEqual(['setup', 'wheelbase', 'run']);
  });

  it('is a plan of lanes only for two lanes of one floor', () => {
    const lanes = (...sheets: readonly PassSheet[]): boolean =>
      hasLanePlan(sheets.map((pass, i) => row(i + 1, { pass })));
    const floor = 'dairy hall';
    expect(lanes({ floor, lane: '1' }, { floor, lane: '2' })).toBe(true);
    expect(lanes({ floor, lane: '1' }, { floor, lane: '1' })).toBe(false);
    expect(lanes({ floor, lane: '1' }, { floor })).toBe(false);
    expect(lanes({ floor, lane: '1' }, { floor: 'loft', lane: '2' })).toBe(false);
    expect(lanes({ lane: '1' }, { lane: '2' })).toBe(false);
  });
});

describe('writing on a sheet', () => {
  const pass: PassSheet = { floor: 'dairy hall', lane: '2', passNumber: 3, tags: ['night', 'wet'] };

  it('changes nothing where nothing was written over', () => {
    expect(changeFrom(pass, fieldsOf(pass))).toBeNull();
  });

  it('sends what differs, and takes off what was emptied', () => {
    const typed = { ...fieldsOf(pass), lane: ' ', setup: ' soft tyres ', tags: 'wet, dawn,wet,' };
    expect(changeFrom(pass, typed)).toEqual({
      sheet: { lane: null, setup: 'soft tyres' },
      addTags: ['dawn'],
      removeTags: ['night'],
    });
  });

  it('reads tags between commas, each once', () => {
    expect(tagsIn(' night ,, wet floor,night')).toEqual(['night', 'wet floor']);
  });
});

describe('the words of a run', () => {
  const plain = (words: string | null): string | null => words?.replace(/\s/g, ' ') ?? null;

  it('hold the figures against the limits of its delivery', () => {
    const run = row(1, { cropPercent: 1.8, residualPx: 0.86 });
    expect(plain(cropWords(run))).toBe('1.8 %');
    expect(plain(cropLimitWords(run))).toBe('of 5 %');
    expect(plain(leftLimitWords(run))).toBe('of 0.83 px');
  });

  it('name no limit where there is no figure, or it is not known', () => {
    expect(leftLimitWords(row(1, { residualPx: null }))).toBeNull();
    expect(cropLimitWords(row(1, { grade: 'unmeasurable' }))).toBeNull();
    const delivery = { ...row(1).delivery, maxCropPercent: null };
    expect(cropLimitWords(row(1, { delivery }))).toBeNull();
  });

  it('name the delivery, by its size where it has no name', () => {
    const delivery = row(1).delivery;
    expect(passWords(row(1, { delivery: { ...delivery, name: 'hall wall' } }))).toContain('hall wall');
    expect(passWords(row(1))).toContain('1920x1080');
  });
});

describe('a long name', () => {
  it('is cut in its middle, and a short one is not', () => {
    expect(shortName('tiled-corridor-second-pass-a.mp4', 20)).toBe('tiled-co…-pass-a.mp4');
    expect(shortName('tiled-corridor-second-pass-a.mp4', 20)).toHaveLength(20);
    expect(shortName('hall.mp4', 20)).toBe('hall.mp4');
  });
});
