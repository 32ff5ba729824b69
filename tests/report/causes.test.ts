import { describe, expect, it } from 'vitest';
import {
  lookFirst,
  shakesMost,
  sourceDetails,
  sourceName,
  sourceRemarks,
  sureness,
} from '../../src/report/cause-words.js';
import { sourcesCsv, thirdOctavesCsv } from '../../src/report/csv.js';
import { renderHtml, terminalSummary } from '../../src/report/index.js';
import type { ShakeSourceSection } from '../../src/run/index.js';
import { madeUpBundle } from './support/made-up-bundle.js';
import { madeUpRun } from './support/made-up-run.js';

const run = madeUpRun();
const [wheel, mount, machine, joints, unknown] = run.spectrum.sources;

describe('what shakes, in words', () => {
  it('calls each cause by its name and says where to look first', () => {
    expect(sourceName(wheel, run)).toBe('Wheel, once a turn: out of round or a flat');
    expect(sourceName(mount, run)).toBe('Mount rings at 7.3 Hz');
    expect(sourceName(machine, run)).toBe('Given machine at 31 Hz, seen at 6 Hz');
    expect(sourceName(joints, run)).toBe('Joints every 300 mm, 5 times their beat');
    expect(sourceName(unknown, run)).toBe('Unknown');
    expect(lookFirst(mount, run)).toContain('7.3 Hz');
    expect(lookFirst(unknown, run)).toContain('--against');
    const lamp: ShakeSourceSection = { ...wheel, cause: 'lamp' };
    expect(sourceName(lamp, run)).toBe('Lamp flicker, no motion');
    expect(lookFirst(lamp, run)).toContain('Nothing to do on the dolly');
  });

  it('takes the distance of joints from the rig, else from the floor, else from the speed, else says none', () => {
    const given = madeUpRun((draft) => (draft.rig.jointSpacingM = 0.6));
    expect(sourceName(joints, given)).toContain('every 600 mm');
    const ungraded = madeUpRun((draft) => (draft.surface.joints = null));
    // 5 times 0.25 m/s over 4.15 Hz.
    expect(sourceName(joints, ungraded)).toContain('every 302 mm');
    const still = madeUpRun((draft) => {
      draft.surface.joints = null;
      draft.spectrum.speedMps = null;
    });
    expect(sourceName(joints, still)).toBe('Joints, 5 times their beat');
  });

  it('sends an unknown source where another run points', () => {
    const other = { otherHz: 9.4, probability: 0.93, trueHz: 15.6, reason: null };
    const machineLike: ShakeSourceSection = {
      ...unknown,
      otherRun: { ...other, behaves: 'constantFrequency' },
    };
    expect(lookFirst(machineLike, run)).toMatch(/^Switch motors and fans off/);
    expect(sourceRemarks(machineLike, run).at(-1)).toContain('Both runs agree on a motion of 15.6 Hz.');
    const floorLike: ShakeSourceSection = {
      ...unknown,
      otherRun: { ...other, behaves: 'constantWavelength' },
    };
    // 0.25 m/s over 9.4 Hz.
    expect(lookFirst(floorLike, run)).toContain('repeats every 26.7 mm');
  });

  it('is never surer than 95 %', () => {
    expect(sureness({ confidence: 0.999 })).toBe('95 %');
    expect(sureness({ confidence: null })).toBe('–');
  });

  it('fits one line only where what shakes most has a name', () => {
    expect(shakesMost(run)).toBe('Wheel, once a turn: out of round or a flat (1.62 Hz, 95 % sure)');
    const nameless = madeUpRun((draft) => draft.spectrum.sources.unshift({ ...unknown, shiftPx: 3 }));
    expect(shakesMost(nameless)).toBeNull();
    const lit = madeUpRun((draft) => draft.spectrum.sources.unshift({ ...wheel, cause: 'lamp' }));
    expect(shakesMost(lit)).toMatch(/^Wheel/);
  });

  it('says what the sound and another run say, and why there is no name', () => {
    expect(sourceRemarks(machine, run)).toEqual(['In the sound there is a tone at 31 Hz (95 %).']);
    expect(sourceRemarks(wheel, run).at(-1)).toBe(
      'In dairy-hall-faster it is at 2.44 Hz: it keeps its wavelength, so it is the floor or a wheel (95 %).',
    );
    const remarks = sourceRemarks(unknown, run);
    expect(remarks[0]).toBe('Nothing that was given shakes at 9.4 Hz.');
    expect(remarks[1]).toMatch(/^Less likely: a wheel, 4 times a turn .* \(9 %\)\.$/);
    expect(remarks[2]).toBe('This frame rate would show motions of 15.6, 34.4 Hz here, too.');
  });

  it('tells engineers what shutter and rolling shutter hide', () => {
    expect(sourceDetails(unknown, run)).toContain(
      'The shutter lets only 20 % of such a motion through: how large it is cannot be told.',
    );
    // 1.3 px of a clip that is twice as wide as the delivery.
    expect(sourceDetails(machine, run).join(' ')).toMatch(
      /bends the frame by up to 0\.65 px of the delivery/,
    );
    expect(sourceDetails(joints, run)[1]).toBe('Number 5 of a series at multiples of 0.83 Hz.');
  });

  it('stands in the terminal in three lines, most first, and counts the rest', () => {
    const lines = terminalSummary(run, { colour: false }).split('\n');
    const first = lines.findIndex((line) => line.startsWith('Shakes:'));
    expect(lines[first]).toBe(
      'Shakes: Wheel, once a turn: out of round or a flat (1.62 Hz on tilt, roll, vertical; 0.95 px RMS of the delivery; 95 % sure)',
    );
    expect(lines[first + 2]).toContain('Given machine at 31 Hz, seen at 6 Hz');
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

  it('tells the axes that the rate of false peaks does not hold for', () => {
    expect(page()).toContain('No such rate is known for pan, lateral, axial');
  });

  it('gives the size as seen, and of the motion itself where the shutter hides some of it', () => {
    const text = page()
      .replace(/<[^>]+>/g, ' ')
      .replace(/\s+/g, ' ');
    // The motor came through at 48 %.
    expect(text).toMatch(/pan 0\.0042° motion itself 0\.0088°/);
    expect(text).toMatch(/roll 0\.0011° motion itself not known/);
    expect(text.match(/motion itself/g)).toHaveLength(2);
  });

  it('tells shifts in px of the delivery where that is larger than the clip, as the terminal does', () => {
    const small = (draft: Parameters<NonNullable<Parameters<typeof madeUpBundle>[0]>>[0]): void => {
      Object.assign(draft.clip, { widthPx: 1280, heightPx: 720 });
      draft.spectrum.sources[0].shiftPx = 0.51;
    };
    const text = page(small)
      .replace(/<[^>]+>/g, ' ')
      .replace(/\s+/g, ' ');
    expect(text).toContain('Picture shifts, RMS, px of the delivery');
    // 0.51 px of 1280 are 0.765 px of 1920.
    expect(text).toMatch(/ 0\.7[67] px tilt /);
    expect(text).not.toMatch(/ 0\.51 px tilt /);
    expect(terminalSummary(madeUpRun(small), { colour: false })).toMatch(
      /; 0\.7[67] px RMS of the delivery;/,
    );
  });

  it('folds away what comes after the first twelve sources', () => {
    const text = page((draft) => {
      while (draft.spectrum.sources.length < 14) draft.spectrum.sources.push({ ...unknown });
    });
    expect(text).toContain('the other 2 sources');
  });

  it('puts what shakes most on the first screen, and nothing where it has no name', () => {
    const first = (text: string): string => /<section class="first"[\s\S]*?<\/section>/.exec(text)![0];
    expect(first(page())).toContain('Shakes most: Wheel, once a turn');
    expect(first(page((draft) => (draft.spectrum.sources = [])))).not.toContain('Shakes most');
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

describe('sources.csv', () => {
  const [header, ...rows] = sourcesCsv(run.spectrum)
    .trimEnd()
    .split('\r\n')
    .map((line) => line.split(','));
  const field = (row: string[], name: string): string => row[header.indexOf(name)];

  it('has one row for each source on each axis that shows it, with the numbers of the report', () => {
    expect(rows.map((row) => `${field(row, 'source')} ${field(row, 'axis')}`)).toEqual([
      ...['1 tilt', '1 roll', '1 vertical', '2 tilt', '3 pan', '3 tilt', '4 vertical', '5 roll'],
    ]);
    for (const row of rows) expect(row).toHaveLength(header.length);
  });

  it('keeps units apart and leaves no confidence to what has no name', () => {
    const [, , vertical, , motor] = rows;
    expect([field(vertical, 'rmsDeg'), field(vertical, 'rmsMm')]).toEqual(['', '0.1800000']);
    expect([field(motor, 'freqHz'), field(motor, 'trueHz'), field(motor, 'exposureGain')]).toEqual([
      ...['6', '31', '0.48'],
    ]);
    expect(field(rows[7], 'cause')).toBe('unknown');
    expect(field(rows[7], 'confidence')).toBe('');
  });
});
