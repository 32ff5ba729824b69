/** Predictions from one noisy pass at 0.25 m/s, held against the same floors driven by other setups without noise. */
import { describe, expect, it } from 'vitest';
import { gaussianRandom, seededRandom } from '../../../src/numerics/index.js';
import { fitPass } from '../../../src/surface/roughness/pass-fit.js';
import { predictShake } from '../../../src/surface/predict/predict-shake.js';
import type { PredictedEvent, PredictedFloor, PredictedRms } from '../../../src/surface/predict/types.js';
import { expectWithin } from '../../support/expect-within.js';
import { madeUpFloor, SPACING_M, type FloorTracks } from '../support/made-up-floor.js';
import { driven, HEAD_M, measuredDeck, vibrationRms, type Drive, type DrivenDeck } from './driven-deck.js';
import { PLAIN_FLOOR, SAME_WHEEL, setupOf } from './predict-support.js';

const RUN_M = 8;
const SEEDS = [1, 2, 3, 4, 5];
const PASS: Drive = {
  speedMps: 0.25,
  wheelbaseM: 0.45,
  wheelRadiusM: 0.04,
  patchM: 0.004,
  runLengthM: RUN_M,
};
const LARGE_WHEEL = { ...SAME_WHEEL, diameterFactor: 2, contactFactor95: 2 };
const SOFT_TYRE = { diameterFactor: 2.5, contactCyclesPerM: 18, contactFactor95: 2 } as const;

interface Truth {
  readonly pitchRad: number;
  readonly rollRad: number;
}

function truthOf({ pitchRad, rollRad }: DrivenDeck): Truth {
  return { pitchRad: vibrationRms(pitchRad), rollRad: vibrationRms(rollRad) };
}

/** The floor as a pass with noise finds it between its joints, and what that pass shook. */
function foundFloor(rough: FloorTracks, seed: number, rolled = rough): PredictedFloor {
  const { fit } = fitPass(measuredDeck(driven(rough, PASS), PASS, seed + 100)).masked;
  const shaken = truthOf(driven(rolled, PASS));
  return {
    ...PLAIN_FLOOR,
    meanTrackM3: fit.meanTrackM3,
    differenceM3: fit.differenceM3,
    sdLn: 1.3 * fit.sdLn,
    contactCyclesPerM: fit.contactCyclesPerM,
    runLengthM: RUN_M,
    measured: {
      setup: setupOf(PASS),
      pitchRadRms: shaken.pitchRad,
      rollRadRms: shaken.rollRad,
      heaveMRms: null,
      sdLn: 0,
    },
  };
}

interface Held {
  readonly ratio: number;
  readonly inside: boolean;
}

function held({ value, low, high }: PredictedRms, truth: number): Held {
  return { ratio: value / truth, inside: low <= truth && truth <= high };
}

/** Mean of ln ratio as a factor, and how many lay within their ranges. */
function summary(all: readonly Held[]): { typical: number; inside: number } {
  const meanLn = all.reduce((sum, { ratio }) => sum + Math.log(ratio), 0) / all.length;
  return { typical: Math.exp(meanLn), inside: all.filter(({ inside }) => inside).length };
}

/** One in twenty is outside by right; so many of `count` are met with a chance of 98 %. */
function enough(count: number): number {
  return Math.floor(0.8 * count);
}

describe('predicted against driven over the same floors', () => {
  const floors = SEEDS.map((seed) => {
    const tracks = madeUpFloor(seed, RUN_M + 2, 1e-6);
    return { tracks, floor: foundFloor(tracks, seed) };
  });

  // Means over 15 other floors each of w 1.6, 2 and 2.5, exponent fitted: pitch 0.89-1.10, roll 0.97-1.16; 97 to 99 % in range.
  const cases: readonly [string, Partial<Drive>, typeof SAME_WHEEL | typeof SOFT_TYRE, number][] = [
    ['half the speed', { speedMps: 0.125 }, SAME_WHEEL, 0.12],
    ['twice the speed', { speedMps: 0.5 }, SAME_WHEEL, 0.2],
    ['a wheelbase of 0.3 m', { wheelbaseM: 0.3 }, SAME_WHEEL, 0.1],
    ['a wheelbase of 0.7 m', { wheelbaseM: 0.7 }, SAME_WHEEL, 0.1],
    ['wheels twice as large', { wheelRadiusM: 0.08 }, LARGE_WHEEL, 0.05],
    ['soft tyres', { wheelRadiusM: 0.1, patchM: 0.045 }, SOFT_TYRE, 0.1],
  ];
  it.each(cases)('of one class at %s', (_, change, wheel, typicalOff) => {
    const drive = { ...PASS, ...change };
    for (const channel of ['pitchRad', 'rollRad'] as const) {
      const all = floors.map(({ tracks, floor }) => {
        const prediction = predictShake(floor, { ...setupOf(drive), wheel });
        return held(prediction[channel]!, truthOf(driven(tracks, drive))[channel]);
      });
      const { typical, inside } = summary(all);
      expectWithin(typical, 1, { abs: typicalOff, why: 'five runs of 8 m' }, channel);
      expect(inside, channel).toBeGreaterThanOrEqual(enough(all.length));
    }
  });

  it('stay within their ranges over floors whose exponent is not 2 and was not fitted', () => {
    const all: Held[] = [];
    for (const waviness of [1.6, 2.5]) {
      for (const seed of SEEDS.slice(0, 3)) {
        const tracks = madeUpFloor(seed, RUN_M + 2, 1e-6, waviness);
        const floor = foundFloor(tracks, seed);
        for (const speedMps of [0.125, 0.5]) {
          const drive = { ...PASS, speedMps };
          const truth = truthOf(driven(tracks, drive));
          const prediction = predictShake(floor, setupOf(drive));
          all.push(held(prediction.pitchRad!, truth.pitchRad), held(prediction.rollRad!, truth.rollRad));
        }
      }
    }
    expect(summary(all).inside).toBeGreaterThanOrEqual(enough(all.length));
  });

  it('hold whether the rest of what the pass shook is the machine', () => {
    const drive = { ...PASS, speedMps: 0.125 };
    const all = floors.map(({ tracks, floor }) => {
      const machine = 1.2 * floor.measured!.pitchRadRms!;
      const pitchRadRms = Math.hypot(machine, floor.measured!.pitchRadRms!);
      const shaken = { ...floor, measured: { ...floor.measured!, pitchRadRms } };
      const truth = Math.hypot(machine, truthOf(driven(tracks, drive)).pitchRad);
      const prediction = predictShake(shaken, setupOf(drive)).pitchRad!;
      expect(prediction.fittedOnly).toBeGreaterThan(1.1 * prediction.allFloor);
      return held(prediction, truth);
    });
    expect(summary(all).inside).toBeGreaterThanOrEqual(enough(all.length));
  });

  it('know boards laid over the floor from the run that measured them', () => {
    const all: Held[] = [];
    // The boards' own run was another dolly's: another speed and wheelbase than those they are foretold for.
    const drive = { ...PASS, speedMps: 0.4, wheelbaseM: 0.6 };
    for (const seed of SEEDS) {
      const boards = madeUpFloor(seed + 50, RUN_M + 2, 2.5e-7);
      const contactCyclesPerM = floors[0].floor.contactCyclesPerM;
      const wheel = { diameterFactor: 1, contactCyclesPerM, contactFactor95: 2 };
      const prediction = predictShake(foundFloor(boards, seed), { ...setupOf(drive), wheel });
      const truth = truthOf(driven(boards, drive));
      all.push(held(prediction.pitchRad!, truth.pitchRad), held(prediction.rollRad!, truth.rollRad));
    }
    const { typical, inside } = summary(all);
    expectWithin(typical, 1, { abs: 0.15, why: 'ten figures of 8 m runs' });
    expect(inside).toBeGreaterThanOrEqual(enough(all.length));
  });
});

describe('predicted against driven over plates with steps between them', () => {
  const PLATE_M = 0.6;
  const STEP_RMS_M = 5e-4;

  /** Plates of their own height under each wheel line, and the list of steps that a pass would give. */
  function plates(seed: number): { rough: FloorTracks; stepped: FloorTracks; events: PredictedEvent[] } {
    const rough = madeUpFloor(seed, RUN_M + 2, 1e-6);
    const gaussian = gaussianRandom(seededRandom(seed + 31));
    const stepped = { left: Float64Array.from(rough.left), right: Float64Array.from(rough.right) };
    const events: PredictedEvent[] = [];
    const height = { left: 0, right: 0 };
    for (let edgeM = 0.2; edgeM < RUN_M + 1; edgeM += PLATE_M) {
      const rise = { left: 0, right: 0 };
      for (const side of ['left', 'right'] as const) {
        const next = (STEP_RMS_M / Math.SQRT2) * gaussian();
        rise[side] = next - height[side];
        height[side] = next;
        const from = Math.round(edgeM / SPACING_M);
        for (let i = from; i < stepped[side].length; i++) stepped[side][i] += rise[side];
      }
      const atM = edgeM - HEAD_M;
      if (atM < 0 || atM > RUN_M + PASS.wheelbaseM) continue;
      const heightM = (rise.left + rise.right) / 2;
      events.push({
        kind: 'joint',
        atM,
        heightM,
        heightSdM: 5e-5,
        differenceM: rise.left - rise.right,
        lengthM: 0,
      });
    }
    return { rough, stepped, events };
  }

  it('hold for roughness and joints together, from the list alone or beside what the pass shook', () => {
    const fromList: Held[] = [];
    const withPass: Held[] = [];
    for (const seed of SEEDS.slice(0, 3)) {
      const { rough, stepped, events } = plates(seed);
      const floor = { ...foundFloor(rough, seed, stepped), events };
      for (const change of [
        { speedMps: 0.125 },
        { speedMps: 0.5 },
        { wheelbaseM: 0.3 },
        { wheelbaseM: 0.7 },
      ]) {
        const drive = { ...PASS, ...change };
        const truth = truthOf(driven(stepped, drive));
        for (const channel of ['pitchRad', 'rollRad'] as const) {
          const alone = predictShake({ ...floor, measured: null }, setupOf(drive))[channel]!;
          expect(alone.events).toBeGreaterThan(0.5 * alone.roughness);
          fromList.push(held(alone, truth[channel]));
          withPass.push(held(predictShake(floor, setupOf(drive))[channel]!, truth[channel]));
        }
      }
    }
    for (const all of [fromList, withPass]) {
      const { typical, inside } = summary(all);
      expectWithin(typical, 1, { abs: 0.08, why: 'steps are known, roughness is drawn' });
      expect(inside).toBeGreaterThanOrEqual(enough(all.length));
    }
  });

  it('would be far too low without the list', () => {
    const { rough, stepped } = plates(1);
    const floor = foundFloor(rough, 1, stepped);
    const drive = { ...PASS, wheelbaseM: 0.7 };
    const { pitchRad } = predictShake({ ...floor, measured: null }, setupOf(drive));
    expect(pitchRad!.high).toBeLessThan(truthOf(driven(stepped, drive)).pitchRad);
  });
});
