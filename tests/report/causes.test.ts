import { describe, expect, it } from 'vitest';
import { lookFirst, sourceDetails, sourceName, sourceRemarks } from '../../src/report/cause-words.js';
import { thirdOctavesCsv } from '../../src/report/csv.js';
import { renderHtml, terminalSummary } from '../../src/report/index.js';
import type { ShakeSourceSection } from '../../src/run/index.js';
import { madeUpBundle } from './support/made-up-bundle.js';
import { madeUpRun } from './support/made-up-run.js';

const run = madeUpRun();
const [wheel, mount, machine, joints, unknown] = run.spectrum.sources;

describe('what shakes, in words', () => {
  it('calls each cause by its name and says where to look first', () => {
    expect(sourceName(wheel)).toBe('A wheel, once a turn (out of round or a flat)');
    expect(sourceName(mount)).toBe('The mount of the camera, ringing');
    expect(sourceName(machine)).toBe('Machine 1 of those given, 31.00 Hz');
    expect(sourceName(joints)).toBe('Joints of the floor, 5 times their beat');
    expect(sourceName(unknown)).toBe('Unknown');
    expect(lookFirst(mount)).toContain('7.30 Hz');
    expect(lookFirst(unknown)).toContain('--against');
    const lamp: ShakeSourceSection = { ...wheel, cause: 'lamp' };
    expect(sourceName(lamp)).toContain('no motion');
    expect(lookFirst(lamp)).toContain('Nothing to do on the dolly');
  });

  it('says where a folded motion is seen, what the sound and another run say, and why there is no name', () => {
    expect(sourceRemarks(machine, run)).toEqual([
      'A motion of 31.00 Hz, which this frame rate shows at 6.00 Hz.',
      'In the sound there is a tone at 31.00 Hz (95 %).',
    ]);
    expect(sourceRemarks(wheel, run).at(-1)).toBe(
      'In dairy-hall-faster it is at 2.44 Hz: it keeps its wavelength, so it is the floor or a wheel (95 %).',
    );
    const remarks = sourceRemarks(unknown, run);
    expect(remarks[0]).toBe('Nothing that was given stands at this frequency.');
    expect(remarks[1]).toMatch(/^Less likely: a wheel, 4 times a turn .* \(9 %\)\.$/);
    expect(remarks[2]).toBe('This frame rate would show motions of 15.6, 34.4 Hz here, too.');
  });

  it('tells engineers what shutter and rolling shutter hide', () => {
    expect(sourceDetails(unknown)).toContain(
      'The shutter lets only 20 % of such a motion through: how large it is cannot be told.',
    );
    expect(sourceDetails(machine).join(' ')).toMatch(/bends the frame by up to 1.3 px/);
    expect(sourceDetails(joints)[1]).toBe('Number 5 of a series at multiples of 0.83 Hz.');
  });

  it('stands in the terminal in three lines, most first, and counts the rest', () => {
    const lines = terminalSummary(run, { colour: false }).split('\n');
    const first = lines.findIndex((line) => line.startsWith('Shakes:'));
    expect(lines[first]).toBe(
      'Shakes: 1.62 Hz, tilt, roll, vertical, 1.9 px: a wheel, once a turn (out of round or a flat) (95 % sure)',
    );
    expect(lines[first + 2]).toContain('machine 1 of those given');
    expect(lines[first + 3]).toBe('        2 more in the report');
  });
});

describe('the section of the page on causes', () => {
  const page = (change?: Parameters<typeof madeUpBundle>[0]): string =>
    renderHtml(madeUpBundle(change), null);

  it('prints the measured rate of false peaks, the suggested speed as a suggestion, flicker and sound', () => {
    const text = page();
    expect(text).toContain('Of 100 passes over a floor without any cause, about 2 show a false peak');
    expect(text).toMatch(/0\.25.m\/s was taken and stays, for every figure/);
    expect(text).toMatch(/The light flickers at 100.Hz/);
    expect(text).toContain('Sound supports a frequency, it does not prove a cause.');
  });

  it('claims no rate where no model of the floor holds, and says so', () => {
    const text = page((draft) => {
      draft.spectrum.falsePeaks = null;
    });
    expect(text).toContain('a peak may be a ripple that two axles print on any floor');
  });

  it('says that speeds agree where they do', () => {
    const text = page((draft) => {
      draft.spectrum.suggestedSpeed!.ci95Mps = [0.249, 0.256];
    });
    expect(text).toMatch(/The sources agree with the speed taken, 0\.25.m\/s/);
  });

  it('stands without sources, sound, flicker and picture', () => {
    const text = page((draft) => {
      Object.assign(draft.spectrum, {
        sources: [],
        peaks: [],
        sound: null,
        flicker: null,
        spectrogram: null,
      });
    });
    expect(text).toContain('No peak stands clear');
    expect(text).not.toContain('Sound:');
  });
});

describe('third-octaves.csv', () => {
  const [header, ...rows] = thirdOctavesCsv(run.spectrum)
    .trimEnd()
    .split('\r\n')
    .map((line) => line.split(','));

  it('names the unit of each column and holds every band', () => {
    expect(header.slice(0, 9)).toEqual([
      ...['label', 'centreHz', 'fromHz', 'toHz', 'exposureGain'],
      ...['panRmsDeg', 'panRmsLowDeg', 'panRmsHighDeg', 'panRmsBelowDeg'],
    ]);
    expect(header).toContain('verticalRmsMm');
    expect(rows).toHaveLength(run.spectrum.thirdOctaves.tilt!.length);
  });

  it('holds the figures of the document, empty where noise hides them', () => {
    const at = header.indexOf('tiltRmsDeg');
    run.spectrum.thirdOctaves.tilt!.forEach(({ rms }, i) => {
      expect(rows[i][at]).toBe(rms === null ? '' : rms.toPrecision(7));
    });
    const lateral = header.indexOf('lateralRmsMm');
    expect(rows.some((row) => row[lateral] === '')).toBe(true);
  });
});
