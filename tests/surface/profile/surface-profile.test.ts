import { describe, expect, it } from 'vitest';
import { inverseRealFft, mean, median, realFft, rms } from '../../../src/numerics/index.js';
import type { RolledDeck } from '../../../src/surface/deck/rolled-deck.js';
import { solveAtNodes } from '../../../src/surface/profile/floor-solution.js';
import { heightNodes, nodesAbout } from '../../../src/surface/profile/height-rows.js';
import { surfaceProfile } from '../../../src/surface/profile/surface-profile.js';
import { expectWithin } from '../../support/expect-within.js';
import { agreement, deckOnFloor, highPassed, type DeckOnFloor } from './support.js';

const SEEDS = [1, 2, 3, 4, 5];
const DURATION_S = 16;

function passes(speedMps: number, gdM3: number): DeckOnFloor[] {
  return SEEDS.map((seed) => deckOnFloor({ seed, gdM3, speedMps, durationS: DURATION_S }));
}

/** Where the rear axle rolled, half a second at both ends left out. */
function underRear(deck: RolledDeck, column: Float64Array): Float64Array {
  const trim = Math.round(deck.rateHz / 2);
  return column.slice(trim, deck.rearM.length - trim);
}

/** Medians over passes of what the profile is worth against the truth. */
function quality(runs: readonly DeckOnFloor[]) {
  const each = runs.map(({ deck, levels, trueMean }) => {
    const { distanceM, heightM, sdM } = surfaceProfile(deck, { ...levels, differenceM3: null })!;
    const result = agreement(deck, heightM, highPassed(trueMean(distanceM), deck));
    return { ...result, sdM: rms(underRear(deck, sdM)) };
  });
  const middle = (of: (run: (typeof each)[number]) => number): number => median(each.map(of));
  return {
    errorM: middle((run) => run.errorM),
    trueM: middle((run) => run.trueM),
    correlation: middle((run) => run.correlation),
    errorOverSd: middle((run) => run.errorM / run.sdM),
  };
}

/** Error of the textbook way: the spectrum of the pitch over the gain of the wheelbase, away from its notches. */
function plainDivisionErrorM({ deck, trueMean }: DeckOnFloor): number {
  const pitch = highPassed(deck.pitchRad!.values, deck);
  const n = pitch.length;
  const { re, im } = realFft(pitch);
  const stepM = deck.rearM[1] - deck.rearM[0];
  for (let k = 0; k < re.length; k++) {
    const phase = (2 * Math.PI * k * deck.wheelbaseM) / (n * stepM);
    const gainRe = (Math.cos(phase) - 1) / deck.wheelbaseM;
    const gainIm = Math.sin(phase) / deck.wheelbaseM;
    const power = gainRe ** 2 + gainIm ** 2;
    const usable = Math.sqrt(power) * deck.wheelbaseM > 0.3;
    const [a, b] = [re[k], im[k]];
    re[k] = usable ? (a * gainRe + b * gainIm) / power : 0;
    im[k] = usable ? (b * gainRe - a * gainIm) / power : 0;
  }
  return agreement(deck, inverseRealFft(re, im, n), highPassed(trueMean(deck.rearM), deck)).errorM;
}

/** Error of heights that are sought at nodes of one's own. */
function errorAtNodesM({ deck, levels, trueMean }: DeckOnFloor, nodesM: Float64Array): number {
  const { meanM } = solveAtNodes(deck, 'mean', levels.meanTrackM3!, nodesM);
  const heights = deck.rearM.map((place) => {
    const { low, share } = nodesAbout(nodesM, place);
    return meanM[low] + share * (meanM[low + 1] - meanM[low]);
  });
  return agreement(deck, highPassed(heights, deck), highPassed(trueMean(deck.rearM), deck)).errorM;
}

describe('the profile of a made-up floor', () => {
  // Measured with this method on a hundred simulated passes: error over truth 0.31 and 0.29, correlation 0.95 and 0.96.
  it.each([0.5, 0.2])('is right to a third of its size at %d m/s, and knows its error', (speedMps) => {
    const runs = passes(speedMps, 1e-6);
    const { errorM, trueM, correlation, errorOverSd } = quality(runs);
    expect(errorM).toBeLessThan(0.35 * trueM);
    expect(correlation).toBeGreaterThan(0.93);
    expect(errorOverSd).toBeGreaterThan(0.8);
    expect(errorOverSd).toBeLessThan(1.25);
    expect(median(runs.map(plainDivisionErrorM))).toBeGreaterThan(1.6 * errorM);
  });

  it('holds for a slow pass, for a rough floor and for one that hardly stands out of the noise', () => {
    const slow = quality(passes(0.1, 1e-6));
    expect(slow.correlation).toBeGreaterThan(0.88);
    const rough = quality(passes(0.5, 16e-6));
    expect(rough.correlation).toBeGreaterThan(0.93);
    expect(rough.errorM).toBeLessThan(0.35 * rough.trueM);
    const smooth = quality(passes(0.1, 6e-8));
    expect(smooth.correlation).toBeGreaterThan(0.7);
    for (const { errorOverSd } of [slow, rough, smooth]) {
      expect(errorOverSd).toBeGreaterThan(0.8);
      expect(errorOverSd).toBeLessThan(1.25);
    }
  });

  it('is clearly worse with the front axle read between places of the rear axle', () => {
    // On a rough floor, where how far it strays between places of the rear axle is many times the noise.
    const worse = passes(0.5, 16e-6).map((run) => {
      const { rearM, frontAheadM } = run.deck;
      const stepM = rearM[1] - rearM[0];
      const more = Math.ceil(frontAheadM / stepM);
      const last = rearM[rearM.length - 1];
      const beyond = Float64Array.from({ length: more }, (_, i) => last + (i + 1) * stepM);
      const grid = Float64Array.of(...rearM, ...beyond);
      return errorAtNodesM(run, grid) / errorAtNodesM(run, heightNodes(run.deck));
    });
    expect(median(worse)).toBeGreaterThan(1.4);
  });

  it('bears a wheelbase that is 5 mm wrong, and loses most at 20 mm', () => {
    const runs = passes(0.2, 1e-6).slice(0, 3);
    const errorM = (wrongM: number): number =>
      mean(
        Float64Array.from(runs, (run) => {
          const wheelbaseM = run.deck.wheelbaseM + wrongM;
          const deck = { ...run.deck, wheelbaseM, frontAheadM: wheelbaseM };
          return errorAtNodesM({ ...run, deck }, heightNodes(deck));
        }),
      );
    const right = errorM(0);
    // Measured over eight passes: 10.9, 15.6 and 28.7 um.
    expectWithin(errorM(0.005) / right, 1.43, { rel: 0.2, why: 'three passes' });
    expectWithin(errorM(0.02) / right, 2.6, { rel: 0.2, why: 'three passes' });
  });

  it('shows both wheel lines, each as exactly as it says', () => {
    const each = passes(0.2, 1e-6)
      .slice(0, 3)
      .map(({ deck, levels, trueMean, trueDifference }) => {
        const { distanceM, sides } = surfaceProfile(deck, levels)!;
        const difference = trueDifference(distanceM);
        const middle = trueMean(distanceM);
        const against = (line: Float64Array, sign: number) =>
          agreement(
            deck,
            line,
            highPassed(
              middle.map((m, i) => m + (sign * difference[i]) / 2),
              deck,
            ),
          );
        const left = against(sides!.leftM, 1);
        const right = against(sides!.rightM, -1);
        const sd = rms(underRear(deck, sides!.sdM));
        return { correlation: Math.min(left.correlation, right.correlation), ratio: left.errorM / sd };
      });
    expect(median(each.map(({ correlation }) => correlation))).toBeGreaterThan(0.8);
    expect(median(each.map(({ ratio }) => ratio))).toBeGreaterThan(0.75);
    expect(median(each.map(({ ratio }) => ratio))).toBeLessThan(1.25);
  });

  it('of a soft tyre is the way of its axle', () => {
    const runs = SEEDS.slice(0, 3).map((seed) =>
      deckOnFloor({ seed, gdM3: 1e-6, durationS: DURATION_S, wheelRadiusM: 0.1, patchM: 0.045 }),
    );
    const { errorM, trueM, correlation, errorOverSd } = quality(runs);
    expect(correlation).toBeGreaterThan(0.95);
    expect(errorM).toBeLessThan(0.35 * trueM);
    // The floor that such a tyre feels is smoother than the prior's, so the error is stated too large and not too small.
    expect(errorOverSd).toBeLessThan(1);
  });
});

describe('a long pass', () => {
  const { deck, levels } = deckOnFloor({ seed: 4, gdM3: 1e-6, speedMps: 0.5, durationS: 40 });
  const onlyMean = { ...levels, differenceM3: null };
  const long = surfaceProfile(deck, onlyMean)!;

  it('solved in stretches agrees with a part of it solved in one piece', () => {
    const from = 300;
    const to = 800;
    const cut = (column: Float64Array): Float64Array => column.slice(from, to);
    const part: RolledDeck = {
      ...deck,
      timeS: cut(deck.timeS),
      rearM: cut(deck.rearM),
      pitchRad: { ...deck.pitchRad!, values: cut(deck.pitchRad!.values) },
      heaveM: { ...deck.heaveM!, values: cut(deck.heaveM!.values) },
    };
    const piece = surfaceProfile(part, onlyMean)!;
    // Two periods of the cut-off inside the piece its ends no longer matter.
    const inner = 63;
    const apart = Array.from(
      { length: to - from - 2 * inner },
      (_, i) => long.heightM[from + inner + i] - piece.heightM[inner + i],
    );
    expect(rms(apart)).toBeLessThan(0.1 * rms(piece.sdM));
    const sdApart =
      mean(long.sdM.slice(from + inner, to - inner)) / mean(piece.sdM.slice(inner, -inner - 22));
    expectWithin(sdApart, 1, { rel: 0.05, why: 'the same frames say the same' });
  });

  it('has no jump where stretches meet', () => {
    const steps = long.heightM.slice(1).map((height, i) => Math.abs(height - long.heightM[i]));
    const widest = Math.max(...steps);
    expect(widest).toBeLessThan(6 * rms(steps));
  });
});

describe('a profile', () => {
  const { deck, levels } = deckOnFloor({ seed: 2, gdM3: 6e-8, durationS: 8 });

  it('runs from the rear axle at the first frame to the front axle at the last', () => {
    const { distanceM, heightM, sdM } = surfaceProfile(deck, levels)!;
    const last = deck.rearM.length - 1;
    const stepM = deck.rearM[last] / last;
    expect(heightM).toHaveLength(distanceM.length);
    expect(sdM).toHaveLength(distanceM.length);
    expect(distanceM[0]).toBe(deck.rearM[0]);
    const endM = deck.rearM[last] + deck.frontAheadM;
    const left = endM - distanceM[distanceM.length - 1];
    expect(left).toBeGreaterThanOrEqual(-1e-9);
    expect(left).toBeLessThan(stepM);
    // One axle only rolled over the first and the last wheelbase.
    const atEnds = Math.floor(deck.frontAheadM / stepM);
    expect(mean(sdM.slice(0, atEnds))).toBeGreaterThan(1.03 * mean(sdM.slice(atEnds, -atEnds)));
    expect(Math.min(...sdM)).toBeGreaterThan(0);
  });

  it('is missing without pitch and heave or without a level, and has no sides without roll', () => {
    expect(surfaceProfile({ ...deck, pitchRad: null, heaveM: null }, levels)).toBeNull();
    expect(surfaceProfile(deck, { ...levels, meanTrackM3: null })).toBeNull();
    expect(surfaceProfile({ ...deck, rollRad: null }, levels)!.sides).toBeNull();
    const heaveAlone = surfaceProfile({ ...deck, pitchRad: null, rollRad: null }, levels)!;
    const both = surfaceProfile({ ...deck, rollRad: null }, levels)!;
    expect(mean(heaveAlone.sdM)).toBeGreaterThan(1.1 * mean(both.sdM));
  });

  it('comes out the same again, bit for bit, and changes nothing it was given', () => {
    const before = deck.pitchRad!.values.slice();
    const first = surfaceProfile(deck, levels)!;
    expect(surfaceProfile(deck, levels)).toEqual(first);
    expect(deck.pitchRad!.values).toEqual(before);
  });

  it('of a clip with very many frames a second has fewer places, and is as right as it says', () => {
    const fast = deckOnFloor({ seed: 3, gdM3: 1e-6, speedMps: 0.5, durationS: 8, fps: 240 });
    const slow = { ...fast.deck, cutoffHz: 0.4 };
    const { distanceM, heightM, sdM } = surfaceProfile(slow, { ...fast.levels, differenceM3: null })!;
    const together = Math.round((distanceM[1] - distanceM[0]) / (slow.rearM[1] - slow.rearM[0]));
    expect(together).toBeGreaterThan(1);
    const truth = highPassed(fast.trueMean(distanceM), { ...slow, rateHz: 240 / together });
    const inner = (column: Float64Array): Float64Array => column.slice(30, -30);
    const error = rms(inner(heightM.map((height, i) => height - truth[i])));
    expect(error).toBeLessThan(1.25 * rms(inner(sdM)));
    expect(error).toBeLessThan(0.25 * rms(inner(truth)));
  });
});
