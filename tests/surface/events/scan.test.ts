import { beforeAll, describe, expect, it } from 'vitest';
import { mean, seededRandom } from '../../../src/numerics/index.js';
import { FreedFloor, FREE_STEP_M, gapsWithin, releaseAt } from '../../../src/surface/events/release-floor.js';
import { releaseEvents } from '../../../src/surface/events/release-events.js';
import { withoutEvents } from '../../../src/surface/events/release-deck.js';
import { ALARMS_PER_M, scanEvents } from '../../../src/surface/events/scan.js';
import { columnAt, unitBump, unitDip, unitStep, type UnitShape } from '../../../src/surface/events/shapes.js';
import type { EventScan } from '../../../src/surface/events/types.js';
import { fitPass, levelsOf, refitPass } from '../../../src/surface/roughness/pass-fit.js';
import type { StretchInformation } from '../../../src/surface/profile/types.js';
import { expectWithin } from '../../support/expect-within.js';
import { deckOverEvents } from './deck-over-events.js';

const BLUR_M = 0.01;

describe('unit shapes', () => {
  it('rise, dip and bulge by the unit that they are named for', () => {
    const step = unitStep(BLUR_M);
    expect([-0.02, 0, 0.02].map(step.heightAt)).toEqual([0, 0.5, 1]);
    const unblurred = unitBump(0.04, 0);
    expectWithin(unblurred.heightAt(0), 1, {
      abs: 1e-4,
      why: 'averaged over a tenth of a millimetre at least',
    });
    expectWithin(unblurred.heightAt(0.01), 0.5, { abs: 1e-4 });
    expectWithin(unitDip(0).heightAt(0), -1, {
      abs: 0.02,
      why: 'the tip of a triangle of 4 mm, so averaged',
    });
  });

  it('keep their area when the exposure averages them', () => {
    const area = (shape: UnitShape): number => {
      let sum = 0;
      for (let way = -0.1; way < 0.1; way += 1e-4) sum += shape.heightAt(way) * 1e-4;
      return sum;
    };
    expectWithin(area(unitBump(0.04, BLUR_M)), 0.02, { rel: 1e-3, why: 'half of length times height' });
    expectWithin(area(unitDip(BLUR_M)), -0.004, { rel: 1e-2, why: 'a triangle with a base of 8 mm' });
  });
});

/** A floor's information as any would look: symmetric and positive. */
function someInformation(n: number): StretchInformation {
  const random = seededRandom(3);
  const factor = Float64Array.from({ length: n * n }, () => 2000 * (random() - 0.5));
  const information = new Float64Array(n * n);
  for (let i = 0; i < n; i++)
    for (let j = 0; j < n; j++)
      for (let k = 0; k < n; k++) information[i * n + j] += factor[i * n + k] * factor[j * n + k];
  return {
    track: 'mean',
    stretch: { fromFrame: 0, toFrame: n / 2, answersM: [0, 1] },
    nodesM: Float64Array.from({ length: n }, (_, i) => 0.004 * i + 0.001 * (i % 2)),
    information,
    score: Float64Array.from({ length: n }, () => 1e4 * (random() - 0.5)),
  };
}

describe('FreedFloor', () => {
  const n = 40;
  const information = someInformation(n);
  const { nodesM } = information;
  const heightsOf = (shape: UnitShape, placeM: number): Float64Array =>
    nodesM.map((node) => shape.heightAt(node - placeM));
  const product = (a: Float64Array, b: Float64Array): number => {
    let sum = 0;
    for (let i = 0; i < n; i++)
      for (let j = 0; j < n; j++) sum += a[i] * information.information[i * n + j] * b[j];
    return sum;
  };

  it('gives the products of whole shapes from their few differences', () => {
    const floor = new FreedFloor(information);
    const shapes = [unitStep(BLUR_M), unitDip(BLUR_M), unitBump(0.04, BLUR_M)];
    for (const a of shapes) {
      for (const b of shapes) {
        const [atA, atB] = [heightsOf(a, 0.07), heightsOf(b, 0.09)];
        const got = floor.product(columnAt(a, 0.07, nodesM), columnAt(b, 0.09, nodesM));
        const scale = Math.sqrt(product(atA, atA) * product(atB, atB));
        expectWithin(got, product(atA, atB), { abs: 1e-9 * scale, why: 'rounding' });
      }
      const score = heightsOf(a, 0.07).reduce((sum, height, i) => sum + height * information.score[i], 0);
      expectWithin(floor.score(columnAt(a, 0.07, nodesM)), score, { abs: 1e-6, why: 'rounding of some 1e4' });
    }
  });

  it('knows after two freed steps what a fit of both beside the shape leaves', () => {
    const floor = new FreedFloor(information);
    const gaps = [12, 13];
    for (const gap of gaps) floor.free(gap);
    expect(floor.free(12)).toBeNull();
    // Both steps integrated out at once, by the 2 x 2 inverse.
    const steps = gaps.map((gap) => nodesM.map((_, i) => (i >= gap ? 1 : 0)));
    const prior = FREE_STEP_M ** -2;
    const [aa, bb] = steps.map((step) => product(step, step) + prior);
    const ab = product(steps[0], steps[1]);
    const shape = heightsOf(unitStep(BLUR_M), 0.07);
    const [a, b] = steps.map((step) => product(step, shape));
    const taken = (a * a * bb - 2 * a * b * ab + b * b * aa) / (aa * bb - ab * ab);
    const column = columnAt(unitStep(BLUR_M), 0.07, nodesM);
    expectWithin(floor.product(column, column), product(shape, shape) - taken, {
      rel: 1e-7,
      why: 'rounding',
    });
  });

  it('frees the gaps about a place, and the nearest one where nodes are wide apart', () => {
    expect(gapsWithin(nodesM, { placeM: 0.05, halfWidthM: 0.006 })).toHaveLength(3);
    expect(gapsWithin(nodesM, { placeM: 0.05, halfWidthM: 1e-6 })).toHaveLength(1);
    expect(gapsWithin(nodesM, releaseAt(1, 0, 0.004))).toEqual([]);
  });
});

describe('scanEvents on a floor without events', () => {
  let scan: EventScan;

  beforeAll(() => {
    const { deck } = deckOverEvents({ seed: 3, gdM3: 1e-6, speedMps: 0.5, durationS: 10 });
    scan = scanEvents(deck, levelsOf(fitPass(deck)))!;
  });

  it('scores like chance: chi-square with three degrees of freedom', () => {
    expect(scan.degreesOfFreedom).toBe(3);
    expectWithin(mean(scan.score), 2.5, {
      abs: 0.5,
      why: 'means of single floors; 3 at most, noise counts below',
    });
    expect(Math.max(...scan.score)).toBeLessThan(scan.threshold);
  });

  it('asks more of an event for a list that must be short', () => {
    const { deck } = deckOverEvents({ seed: 3, gdM3: 1e-6, speedMps: 0.5, durationS: 4 });
    const levels = levelsOf(fitPass(deck));
    const [usual, strict] = [ALARMS_PER_M.usual, ALARMS_PER_M.strict].map(
      (perM) => scanEvents(deck, levels, perM)!.threshold,
    );
    expectWithin(usual, 17.123, { abs: 0.01, why: 'scipy.stats.chi2.isf(1/20 * 0.0133, 3), scipy 1.17' });
    expectWithin(strict, 20.506, { abs: 0.01, why: 'the same with 1/100' });
  });

  it('says nothing without pitch', () => {
    const { deck } = deckOverEvents({ seed: 3, gdM3: 1e-6, durationS: 4, without: ['pitch'] });
    expect(scanEvents(deck, { meanTrackM3: 1e-6, differenceM3: 1e-6 })).toBeNull();
  });
});

describe('a strong step', () => {
  const { deck } = deckOverEvents({
    seed: 9,
    gdM3: 2.5e-7,
    speedMps: 0.5,
    durationS: 8,
    steps: [{ placeM: 2, leftM: 0.002, rightM: 0.001 }],
  });
  const plain = deckOverEvents({ seed: 9, gdM3: 2.5e-7, speedMps: 0.5, durationS: 8 }).deck;
  const fitted = fitPass(plain);
  const scan = scanEvents(deck, levelsOf(fitted))!;

  it('leaves no ghosts: one event, though the scores are high at both axles and beside them', () => {
    const above = scan.placesM.filter((_, i) => scan.score[i] > scan.threshold);
    expect(above[above.length - 1] - above[0]).toBeGreaterThan(0.4);
    const { events } = releaseEvents(scan, ALARMS_PER_M.usual);
    expect(events).toHaveLength(1);
    expect(events[0].shape).toBe('step');
    expectWithin(events[0].placeM, 2 - 0.006, {
      abs: 0.006,
      why: 'the wheel meets it 9 mm before; a third of 20 mm',
    });
  });

  it('comes out of the series and leaves a floor as rough as elsewhere', () => {
    const releases = releaseEvents(scan, ALARMS_PER_M.usual).events.map(({ release }) => release);
    const cleaned = refitPass(fitted, withoutEvents(deck, scan.stretches, releases));
    const raw = refitPass(fitted, deck);
    const gdOf = (fit: typeof raw): number => Math.log(fit.masked.fit.gdM3 / fitted.masked.fit.gdM3);
    expect(gdOf(raw)).toBeGreaterThan(1.5);
    expectWithin(gdOf(cleaned), 0, { abs: 0.1, why: 'one place of 34 mm in 4.5 m is drawn anew' });
  });
});

describe('withoutEvents on floors without events', () => {
  const passes = [31, 32, 33, 34].map((seed) => {
    const { deck } = deckOverEvents({ seed, gdM3: 6e-8, speedMps: 0.5, durationS: 10 });
    const fitted = fitPass(deck);
    const scan = scanEvents(deck, levelsOf(fitted))!;
    const releases = Array.from({ length: 16 }, (_, i) => releaseAt(0.3 + 0.3 * i, 0, scan.blurM));
    return { deck, fitted, scan, releases };
  });
  const lnTaken = (left: 'floor' | 'nothing'): number =>
    mean(
      Float64Array.from(passes, ({ deck, fitted, scan, releases }) => {
        const cleaned = refitPass(fitted, withoutEvents(deck, scan.stretches, releases, left));
        return Math.log(cleaned.masked.fit.gdM3 / fitted.masked.fit.gdM3);
      }),
    );

  it('does not make them smoother, which taking out the likeliest steps does', () => {
    expectWithin(lnTaken('floor'), 0, {
      abs: 0.09,
      why: '0.03 measured, one draw 0.06 on either side of it',
    });
    expect(lnTaken('nothing')).toBeLessThan(-0.14);
  });

  it('gives the same deck again, bit for bit, and leaves the one given alone', () => {
    const { deck, scan, releases } = passes[0];
    const before = Float64Array.from(deck.pitchRad!.values);
    const [first, second] = [0, 1].map(() => withoutEvents(deck, scan.stretches, releases));
    expect(second.pitchRad!.values).toEqual(first.pitchRad!.values);
    expect(deck.pitchRad!.values).toEqual(before);
    expect(withoutEvents(deck, scan.stretches, [])).toBe(deck);
  });

  it('joins stretches that were drawn one after the other without a seam', () => {
    // 50 frames/s at 0.4 m/s: three stretches; joints all along, also where they hand over.
    const { deck } = deckOverEvents({ seed: 3, gdM3: 6e-8, speedMps: 0.4, fps: 50, durationS: 14 });
    const fitted = fitPass(deck);
    const { stretches, blurM } = scanEvents(deck, levelsOf(fitted))!;
    expect(stretches.length).toBeGreaterThan(1);
    const releases = Array.from({ length: 40 }, (_, i) => releaseAt(0.15 * (i + 1), 0, blurM));
    const cleaned = refitPass(fitted, withoutEvents(deck, stretches, releases));
    const ln = Math.log(cleaned.masked.fit.gdM3 / fitted.masked.fit.gdM3);
    expectWithin(ln, 0, {
      abs: 0.3,
      why: 'an eighth drawn anew; draws that ignore each other give a factor of ten',
    });
  });
});
