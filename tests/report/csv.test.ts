import { describe, expect, it } from 'vitest';
import { motionCsv, spectrumCsv } from '../../src/report/index.js';
import { csvText, unitInName } from '../../src/report/csv.js';
import { AXES } from '../../src/run/index.js';
import type { AxisEstimate, Motion } from '../../src/motion/types.js';
import { expectWithin } from '../support/expect-within.js';
import { madeUpMotion } from './support/made-up-motion.js';
import { madeUpRun } from './support/made-up-run.js';

function parse(text: string): string[][] {
  expect(text.endsWith('\r\n')).toBe(true);
  return text
    .slice(0, -2)
    .split('\r\n')
    .map((line) => line.split(','));
}

describe('motion.csv', () => {
  const motion = madeUpMotion();
  const [head, ...rows] = parse(motionCsv(motion));

  it('has the agreed columns and one row per frame', () => {
    expect(head).toEqual([
      ...['frame', 'timeS'],
      ...[
        'panIntendedDeg',
        'panVibrationDeg',
        'tiltIntendedDeg',
        'tiltVibrationDeg',
        'rollIntendedDeg',
        'rollVibrationDeg',
      ],
      ...[
        'lateralIntendedMm',
        'lateralVibrationMm',
        'verticalIntendedMm',
        'verticalVibrationMm',
        'axialIntendedMm',
        'axialVibrationMm',
      ],
      ...['tracks', 'inliers'],
    ]);
    expect(rows).toHaveLength(motion.timeS.length);
    for (const row of rows) expect(row).toHaveLength(head.length);
  });

  it('gives degrees and millimetres', () => {
    const at = (name: string, row: number): number => Number(rows[row][head.indexOf(name)]);
    const why = 'seven decimals are written';
    expectWithin(at('tiltVibrationDeg', 100), (motion.vibration.tilt[100] * 180) / Math.PI, {
      abs: 1e-7,
      why,
    });
    expectWithin(at('verticalVibrationMm', 100), motion.vibration.vertical[100] * 1000, { abs: 1e-7, why });
    expectWithin(at('timeS', 100), 4, { abs: 1e-6, why: '25 frames per second' });
    expect(at('tracks', 5)).toBe(274);
  });

  it('says per cent instead of millimetres when there is no scale', () => {
    const [relative] = parse(motionCsv({ ...motion, translationUnit: 'medianDepth' }));
    expect(relative).toContain('lateralVibrationPercent');
    expect(relative.some((name) => name.endsWith('Mm'))).toBe(false);
  });

  it('leaves axes empty that were not observable, and counts that do not belong to the rows', () => {
    const axes = { ...motion.axes };
    for (const axis of ['lateral', 'vertical', 'axial'] as const)
      axes[axis] = { ...axes[axis], status: 'notObservable', rms: null } satisfies AxisEstimate;
    const blind: Motion = {
      ...motion,
      axes: axes,
      tracksPerFrame: new Int32Array(3),
    };
    const [names, first] = parse(motionCsv(blind));
    expect(first[names.indexOf('verticalVibrationMm')]).toBe('');
    expect(first[names.indexOf('tracks')]).toBe('');
    expect(first[names.indexOf('tiltVibrationDeg')]).not.toBe('');
  });

  it('writes no exponent, no NaN and no comma decimal', () => {
    const vibration = {
      ...motion.vibration,
      pan: motion.vibration.pan.map((value, i) => (i === 3 ? NaN : value * 1e-9)),
    };
    const text = motionCsv({ ...motion, vibration });
    expect(text).not.toMatch(/NaN|e-/);
    expect(parse(text)[4][3]).toBe('');
  });
});

describe('spectrum.csv', () => {
  it('has one column per axis with its unit in the name', () => {
    const { spectrum } = madeUpRun();
    const [head, ...rows] = parse(spectrumCsv(spectrum));
    expect(head).toEqual(['freqHz', ...AXES.map((axis, i) => `${axis}Psd${i < 3 ? 'Deg' : 'Mm'}2PerHz`)]);
    expect(rows).toHaveLength(spectrum.series.tilt?.freqHz.length ?? 0);
    expectWithin(Number(rows[7][2]), spectrum.series.tilt?.psd[7] ?? 0, {
      rel: 1e-6,
      why: 'seven digits are written',
    });
  });

  it('leaves fields empty where an axis has another grid', () => {
    const { spectrum } = madeUpRun();
    const text = spectrumCsv({
      ...spectrum,
      series: {
        pan: { freqHz: [1, 2], psd: [1, 2], unit: 'deg²/Hz' },
        tilt: { freqHz: [2, 3], psd: [5, 6], unit: 'deg^2/Hz' },
      },
    });
    expect(parse(text).slice(1)).toEqual([
      ['1', '1.000000', ''],
      ['2', '2.000000', '5.000000'],
      ['3', '', '6.000000'],
    ]);
  });
});

describe('CSV text', () => {
  it('quotes commas, quotes and line breaks as RFC 4180 says', () => {
    expect(csvText([['a,b', 'say "x"', 'two\nlines', 'plain']])).toBe(
      '"a,b","say ""x""","two\nlines",plain\r\n',
    );
  });

  it.each([
    ['deg^2/Hz', 'Deg2PerHz'],
    ['mm²/Hz', 'Mm2PerHz'],
    ['%^2/Hz', 'Percent2PerHz'],
  ])('turns the unit %s into %s', (unit, name) => {
    expect(unitInName(unit)).toBe(name);
  });
});
