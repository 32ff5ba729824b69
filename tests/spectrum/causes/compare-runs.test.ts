import { describe, expect, it } from 'vitest';
import { compareRuns } from '../../../src/spectrum/causes/compare-runs.js';
import type { RunWindow, ShakeSource } from '../../../src/spectrum/causes/types.js';
import { expectWithin } from '../../support/expect-within.js';
import { HERE, madeUpRuns, madeUpSource, otherRun, shareOf } from './made-up-runs.js';

const compare = (freqHz: number, given: Partial<RunWindow>, otherHz: readonly number[]) =>
  compareRuns([madeUpSource(freqHz)], HERE, otherRun(given, otherHz))[0];

describe('a source in another run', () => {
  it('keeps its frequency or its wavelength', () => {
    expect(compare(4, { speedMps: 0.3 }, [4.005])).toMatchObject({
      otherHz: 4.005,
      behaves: 'constantFrequency',
      reason: null,
    });
    expect(compare(4, { speedMps: 0.3 }, [6.05])).toMatchObject({
      otherHz: 6.05,
      behaves: 'constantWavelength',
    });
  });

  it('is open at the same speed, and the speeds needed are said', () => {
    const same = compare(4, {}, [4]);
    expect(same.behaves).toBe('open');
    expect(same.probability).toBeNull();
    expect(same.reason).toBe('The two speeds are only 1.00 times apart: 1.2 times or more are needed.');
  });

  it('is open where a speed is not known', () => {
    const unknown = compare(4, { speedMps: null }, [4]);
    expect(unknown.behaves).toBe('open');
    expect(unknown.reason).toMatch(/speed of one of the runs is not known/);
  });

  it('is gone only where nothing would hide it', () => {
    const gone = compare(4, { speedMps: 0.3 }, [2]);
    expect(gone).toMatchObject({ otherHz: null, behaves: 'neither' });
    expect(gone.reason).toMatch(/no peak at 4 Hz .* nor at 6 Hz/);
    expect(compare(4, { speedMps: 0.7 }, [2]).reason).toMatch(/14 Hz, past the 12 Hz/);
    expect(compare(4, { speedMps: 0.04 }, [2]).reason).toMatch(/0\.8 Hz, below the 1 Hz/);
    // 0.45 m at 0.3 m/s: nulls of the pitch every 0.667 Hz, 6 Hz is the ninth.
    const hidden = compare(4, { speedMps: 0.3, wheelbaseM: 0.45 }, [2]);
    expect(hidden.behaves).toBe('open');
    expect(hidden.reason).toMatch(/two axles cancel/);
  });

  it('is not hidden by nulls of the pitch where only the height shows it', () => {
    const source = madeUpSource(4);
    const heave: ShakeSource = { ...source, sightings: [{ ...source.sightings[0], axis: 'vertical' }] };
    const at = (speedMps: number) =>
      compareRuns([heave], HERE, otherRun({ speedMps, wheelbaseM: 0.45 }, [2]))[0].behaves;
    expect(at(0.3)).toBe('neither');
    // 4 Hz becomes 6 Hz (9 steps) at 0.3; wheelbase such that it is 8.5 steps: between nulls of the pitch.
    const between = otherRun({ speedMps: 0.3, wheelbaseM: 0.425 }, [2]);
    expect(compareRuns([heave], HERE, between)[0].reason).toMatch(/two axles cancel/);
  });

  it('shows its true frequency when the frame rates differ', () => {
    // 31 Hz shows at 6 Hz in 25 frames a second and at 7 Hz in 24.
    const folded = compare(6, { speedMps: 0.3, rateHz: 24, bandHz: [1, 11.5] }, [7]);
    expect(folded.behaves).toBe('constantFrequency');
    expectWithin(folded.trueHz!, 31, { abs: 1e-9, why: 'unfolded about one frame rate' });
    const plain = compare(6, { speedMps: 0.3, rateHz: 24, bandHz: [1, 11.5] }, [6]);
    expectWithin(plain.trueHz!, 6, { abs: 1e-9, why: 'not folded' });
    expect(compare(6, { speedMps: 0.3 }, [6]).trueHz).toBeNull();
  });

  it('does not share its partner with another source', () => {
    const sources = [madeUpSource(4), madeUpSource(6.02)];
    const [first, second] = compareRuns(sources, HERE, otherRun({ speedMps: 0.3 }, [6.02, 9.03]));
    // 6.02 Hz fits the first as wave and the second as machine; only the pairing of both explains 9.03 Hz too.
    expect(first).toMatchObject({ otherHz: 6.02, behaves: 'constantWavelength' });
    expect(second).toMatchObject({ otherHz: 9.03, behaves: 'constantWavelength' });
  });
});

describe('lines of strength 15 to 50 in two runs of 10 s', () => {
  const shares = (ratio: number) => {
    const kinds = ['constantFrequency', 'constantWavelength', 'unrelated'] as const;
    return kinds.map((kind) =>
      shareOf(
        madeUpRuns(5, 200, { ratio, kinds: [kind] }),
        ({ sources, other }) => compareRuns(sources, HERE, other),
        kind,
      ),
    );
  };

  it('are told rightly 19 times in 20 from speeds 1.2 times apart', () => {
    const [constant, wave, unrelated] = shares(1.2);
    // Measured over 300: .997, .943 and .957 right; .000, .000 and .043 wrong.
    expect((constant.right + wave.right + unrelated.right) / 3).toBeGreaterThanOrEqual(0.95);
    expect(constant.wrong + wave.wrong).toBeLessThanOrEqual(0.02);
    expect(unrelated.wrong).toBeLessThanOrEqual(0.08);
  });

  it('stay open more often the nearer the speeds, and are hardly told wrongly', () => {
    const [constant, wave] = shares(1.05);
    const [further] = shares(1.2);
    expect(constant.open).toBeGreaterThan(further.open + 0.05);
    expect(constant.wrong + wave.wrong).toBeLessThanOrEqual(0.08);
  });

  it('are told rightly among others too', () => {
    const kinds = [
      'constantFrequency',
      'constantFrequency',
      'constantWavelength',
      'constantWavelength',
      'unrelated',
    ] as const;
    const runs = madeUpRuns(6, 100, { ratio: 1.5, kinds });
    const by = (kind: (typeof kinds)[number]) =>
      shareOf(runs, ({ sources, other }) => compareRuns(sources, HERE, other), kind);
    expect(by('constantFrequency').right).toBeGreaterThan(0.95);
    expect(by('constantWavelength').right).toBeGreaterThan(0.8);
    expect(by('constantWavelength').wrong).toBeLessThanOrEqual(0.03);
  });
});
