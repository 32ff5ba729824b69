import { describe, expect, it } from 'vitest';
import { nameCauses } from '../../../src/spectrum/causes/name-causes.js';
import { causeInWords } from '../../../src/spectrum/causes/cause-words.js';
import { BAND, KNOWN, madeUpPeak } from './made-up-peaks.js';

const at = (freqHz: number, broadProbability = 0.05) => ({
  axis: 'tilt' as const,
  peak: madeUpPeak(freqHz, { broadProbability }),
});

describe('naming refuses', () => {
  it('every cause below 5 s, and says so', () => {
    const { sources, speed } = nameCauses([at(7.4)], KNOWN, { ...BAND, durationS: 4.9 });
    expect(sources[0]).toMatchObject({ cause: 'unknown', probability: null, candidates: [] });
    expect(sources[0].reason).toBe('The pass lasts 4.9 s: below 5 s no cause is named.');
    expect(speed).toBeNull();
  });

  it('peaks of fewer than 8 cycles, and names the others', () => {
    const { sources } = nameCauses([at(1.1), at(7.4)], KNOWN, { ...BAND, durationS: 7 });
    expect(sources[0].reason).toBe('The pass holds 7.7 cycles of it: below 8 no cause is named.');
    expect(sources[1].cause).toBe('machine');
  });

  it('full trust in passes below 10 s', () => {
    const note = (durationS: number) => nameCauses([], KNOWN, { ...BAND, durationS }).notes;
    expect(note(6)[0]).toMatch(/^Short pass \(6 s\)/);
    expect(note(10)).toEqual([]);
  });

  it('to choose between two listed causes at one place, and names both', () => {
    const turnHz = 0.5 / (Math.PI * 0.08);
    const known = { ...KNOWN, speedMps: 0.5, joint: null, machinesHz: [2 * turnHz + 0.02] };
    // The other multiples leave no doubt that the wheel shakes, nor at what speed.
    const peaks = [at(turnHz), at(3 * turnHz), at(2 * turnHz + 0.01)];
    const source = nameCauses(peaks, known, BAND).sources[1];
    expect(source.cause).toBe('unknown');
    expect(new Set(source.candidates.slice(0, 2).map(({ cause }) => cause))).toEqual(
      new Set(['wheel', 'machine']),
    );
    expect(source.reason).toMatch(/^Two causes stand at the same place: .* and .*1\.2 times the speed/);
    expect(source.reason).toMatch(/a wheel, twice a turn/);
    expect(source.reason).toMatch(/machine 1 of those given/);
  });

  it('to choose between two machines that frames show at one place', () => {
    const known = { ...KNOWN, joint: null, wheelDiameterM: null, machinesHz: [7.4, 17.6] };
    const { sources } = nameCauses([at(7.4)], known, BAND);
    expect(sources[0].cause).toBe('unknown');
    expect(sources[0].candidates.map(({ trueHz }) => Number(trueHz.toFixed(3)))).toEqual(
      expect.arrayContaining([7.4, 17.6]),
    );
  });

  it('wheels and joints where the speed is not known, and still names machines', () => {
    const { sources, speed, notes } = nameCauses([at(7.4), at(1.6)], { ...KNOWN, speedMps: null }, BAND);
    expect(sources[1].cause).toBe('machine');
    const all = sources.flatMap(({ candidates }) => candidates.map(({ cause }) => cause));
    expect(all).not.toContain('wheel');
    expect(all).not.toContain('joint');
    expect(notes[0]).toMatch(/^The speed is not known/);
    expect(speed).toBeNull();
  });

  it('joints whose teeth overlap, and points to the list of joints', () => {
    // 0.3 m at 0.08 m/s beat at 0.267 Hz, below 3 / 10 s.
    const slow = nameCauses([at(2.667)], { ...KNOWN, speedMps: 0.08 }, BAND);
    expect(slow.sources[0].candidates.map(({ cause }) => cause)).not.toContain('joint');
    expect(slow.notes[0]).toMatch(/see the list of joints of the floor/);
    expect(nameCauses([at(2.667)], { ...KNOWN, speedMps: 0.1 }, BAND).notes).toEqual([]);
  });

  it('with the sentence that helps most where nothing was given', () => {
    const nothing = { ...KNOWN, joint: null, wheelDiameterM: null, machinesHz: [] };
    expect(nameCauses([at(7.4)], nothing, BAND).sources[0].reason).toMatch(/^Nothing was given/);
  });

  it('nothing where there are no peaks', () => {
    expect(nameCauses([], KNOWN, BAND)).toEqual({ sources: [], speed: null, notes: [] });
  });
});

describe('causes in words', () => {
  it('say what a wheel does at each multiple', () => {
    expect(causeInWords('wheel', 1)).toBe('a wheel, once a turn (out of round or a flat)');
    expect(causeInWords('wheel', 2)).toBe('a wheel, twice a turn (oval)');
    expect(causeInWords('wheel', 3)).toBe('a wheel, 3 times a turn (as many lobes)');
  });

  it('say which joints and which machine', () => {
    expect(causeInWords('joint', 1)).toBe('joints of the floor');
    expect(causeInWords('joint', 4)).toBe('joints of the floor, 4 times their beat');
    expect(causeInWords('machine', 2)).toBe('machine 2 of those given');
  });
});
