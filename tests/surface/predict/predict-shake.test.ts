import { describe, expect, it } from 'vitest';
import { predictShake } from '../../../src/surface/predict/predict-shake.js';
import type { MeasuredShake, PredictedFloor, PredictedRms } from '../../../src/surface/predict/types.js';
import { expectWithin } from '../../support/expect-within.js';
import { PLAIN_FLOOR, PRESENT } from './predict-support.js';

const EXACT = { rel: 1e-9, why: 'rounding' };
const MODELLED = predictShake(PLAIN_FLOOR, PRESENT);

/** The same floor with a pass that shook this many times what the model says. */
function measuredAt(factor: number): PredictedFloor {
  const measured: MeasuredShake = {
    setup: PRESENT,
    pitchRadRms: factor * MODELLED.pitchRad!.value,
    rollRadRms: factor * MODELLED.rollRad!.value,
    heaveMRms: null,
    sdLn: 0,
  };
  return { ...PLAIN_FLOOR, measured };
}

function width({ low, high }: PredictedRms): number {
  return high / low;
}

describe('the shake of another setup', () => {
  it('follows the square root of the level, and leaves its inputs alone', () => {
    const before = structuredClone(PLAIN_FLOOR);
    const rough = { ...PLAIN_FLOOR, meanTrackM3: 4 * PLAIN_FLOOR.meanTrackM3! };
    const { pitchRad, rollRad } = predictShake(rough, PRESENT);
    expectWithin(pitchRad!.value, 2 * MODELLED.pitchRad!.value, EXACT);
    expectWithin(rollRad!.value, MODELLED.rollRad!.value, EXACT);
    expect(PLAIN_FLOOR).toEqual(before);
  });

  it('moves the middle of the picture by the focal length, its corners by roll as well', () => {
    const { pitchRad, rollRad, centrePx, cornerPx } = MODELLED;
    const { focalPx, widthPx, heightPx } = PRESENT.view!;
    expectWithin(centrePx!.value, focalPx * pitchRad!.value, EXACT);
    const roll = (Math.hypot(widthPx, heightPx) / 2) * rollRad!.value;
    expectWithin(cornerPx!.value, Math.hypot(focalPx * pitchRad!.value, roll), EXACT);
  });

  it('turns deck roll into tilt for a lens that looks sideways', () => {
    const sideways = predictShake(PLAIN_FLOOR, { ...PRESENT, azimuthRad: Math.PI / 2 });
    expectWithin(sideways.centrePx!.value, PRESENT.view!.focalPx * MODELLED.rollRad!.value, EXACT);
  });

  it('says nothing of what the floor or the setup does not hold', () => {
    const noRoll = predictShake({ ...PLAIN_FLOOR, differenceM3: null }, PRESENT);
    expect(noRoll.rollRad).toBeNull();
    expect(noRoll.cornerPx).toBeNull();
    expect(noRoll.centrePx).not.toBeNull();
    const onlyRoll = predictShake({ ...PLAIN_FLOOR, meanTrackM3: null }, PRESENT);
    expect(onlyRoll.pitchRad).toBeNull();
    expect(onlyRoll.rollRad).not.toBeNull();
    expect(predictShake(PLAIN_FLOOR, { ...PRESENT, view: null }).centrePx).toBeNull();
    expect(predictShake(PLAIN_FLOOR, { ...PRESENT, trackWidthM: null }).rollRad).toBeNull();
  });

  it('has a wider range on a floor that is known less well', () => {
    const vague = predictShake({ ...PLAIN_FLOOR, sdLn: 0.5 }, PRESENT).pitchRad!;
    const variance = (range: PredictedRms): number => Math.log(range.high / range.value) ** 2;
    // The RMS is half as uncertain as the level, on a log axis; independent variances add.
    const added = (1.96 / 2) ** 2 * (0.5 ** 2 - PLAIN_FLOOR.sdLn ** 2);
    expectWithin(variance(vague) - variance(MODELLED.pitchRad!), added, EXACT);
  });
});

describe('what the pass shook beyond the model', () => {
  const slower = { ...PRESENT, speedMps: 0.125 };

  it('is the answer itself at the setup of the pass', () => {
    for (const factor of [0.9, 1.05, 2]) {
      const { pitchRad } = predictShake(measuredAt(factor), PRESENT);
      expectWithin(pitchRad!.value, factor * MODELLED.pitchRad!.value, EXACT);
      expectWithin(width(pitchRad!), 1, EXACT);
    }
  });

  it('is as uncertain as it was measured', () => {
    const floor = measuredAt(1);
    const { pitchRad } = predictShake({ ...floor, measured: { ...floor.measured!, sdLn: 0.05 } }, PRESENT);
    expectWithin(Math.log(pitchRad!.high / pitchRad!.value), 1.96 * 0.05, EXACT);
  });

  it('is counted as floor and as machine when it is more than the fit may be off', () => {
    const model = predictShake(PLAIN_FLOOR, slower).pitchRad!.value;
    const { allFloor, fittedOnly, low, high, value } = predictShake(measuredAt(2), slower).pitchRad!;
    expectWithin(allFloor, 2 * model, EXACT);
    expectWithin(fittedOnly, Math.hypot(model, Math.sqrt(3) * MODELLED.pitchRad!.value), EXACT);
    expect(low).toBeLessThan(Math.min(allFloor, fittedOnly));
    expect(high).toBeGreaterThan(Math.max(allFloor, fittedOnly));
    expectWithin(value, Math.sqrt(allFloor * fittedOnly), EXACT);
  });

  it('goes with the floor when the fit may be off by as much', () => {
    const { allFloor, fittedOnly } = predictShake(measuredAt(1.05), slower).pitchRad!;
    expect(fittedOnly).toBe(allFloor);
  });

  it('makes the range narrower, since both setups stand on the same floor', () => {
    const vague = { ...measuredAt(1), sdLn: 0.5 };
    const alone = predictShake({ ...vague, measured: null }, slower).pitchRad!;
    const beside = predictShake(vague, slower).pitchRad!;
    expect(Math.log(width(beside))).toBeLessThan(0.7 * Math.log(width(alone)));
  });
});

describe('waves that the pass did not show', () => {
  it('are few at half the speed and many at twice the speed, and widen the range', () => {
    const at = (factor: number): PredictedRms =>
      predictShake(PLAIN_FLOOR, { ...PRESENT, speedMps: factor * PRESENT.speedMps }).pitchRad!;
    expect(at(0.5).unseenShare).toBeLessThan(0.15);
    expect(at(2).unseenShare).toBeGreaterThan(0.25);
    expect(width(at(2))).toBeGreaterThan(1.15 * width(at(1)));
  });

  it('are refused when most of the shake would come from them', () => {
    const fast = predictShake(PLAIN_FLOOR, { ...PRESENT, speedMps: 1 });
    expect(fast.pitchRad).toBeNull();
    expect(fast.refused).toBe('tooManyUnseenWaves');
    expect(MODELLED.refused).toBeNull();
  });

  it('do not make a run longer than it is', () => {
    const short = predictShake({ ...PLAIN_FLOOR, runLengthM: 1 }, { ...PRESENT, speedMps: 0.5 });
    expect(short.refused).toBe('runTooShort');
    expect(short.pitchRad).toBeNull();
  });
});

describe('joints and bumps of the list', () => {
  const step = { kind: 'step', atM: 3, heightM: 1e-3, heightSdM: 5e-5, differenceM: 0, lengthM: 0 } as const;
  const stepped = predictShake({ ...PLAIN_FLOOR, events: [step] }, PRESENT);

  it('add their power to that of the roughness', () => {
    const { roughness, events, value } = stepped.pitchRad!;
    expect(events).toBeGreaterThan(0);
    expectWithin(roughness, MODELLED.pitchRad!.value, EXACT);
    expectWithin(value, Math.hypot(roughness, events), EXACT);
  });

  it('give the largest kick in px, longer with the lens; none without events or view', () => {
    const view = { ...PRESENT.view!, focalPx: 2 * PRESENT.view!.focalPx };
    const longer = predictShake({ ...PLAIN_FLOOR, events: [step] }, { ...PRESENT, view });
    expectWithin(longer.largestKickPx!, 2 * stepped.largestKickPx!, EXACT);
    const rigid = (PRESENT.view!.focalPx * step.heightM) / PRESENT.wheelbaseM;
    expect(stepped.largestKickPx!).toBeLessThan(rigid);
    expect(stepped.largestKickPx!).toBeGreaterThan(0.4 * rigid);
    expect(MODELLED.largestKickPx).toBeNull();
    expect(
      predictShake({ ...PLAIN_FLOOR, events: [step] }, { ...PRESENT, view: null }).largestKickPx,
    ).toBeNull();
  });

  it('count what their heights may be off', () => {
    const vague = predictShake({ ...PLAIN_FLOOR, events: [{ ...step, heightSdM: 5e-4 }] }, PRESENT).pitchRad!;
    expect(vague.events).toBeGreaterThan(stepped.pitchRad!.events);
    expect(width(vague)).toBeGreaterThan(width(stepped.pitchRad!));
  });
});
