/** Questions that are answered at once: the figures of the long answer, the stored ones where nothing is asked, and the trade-off beside them. */
import { describe, expect, it } from 'vitest';
import {
  LiveAsker,
  liveAnswer,
  whatIf,
  type LiveAnswer,
  type MeasuredPass,
  type WhatIfWish,
} from '../../../src/judge/index.js';
import type { PredictedOutcome } from '../../../src/run/index.js';
import { expectWithin } from '../../support/expect-within.js';
import { lensSteps } from '../../../src/judge/advice/lens.js';
import { presentOf } from '../../../src/judge/advice/present.js';
import { speedSteps } from '../../../src/judge/advice/speed.js';
import { rolledPass, verdictOf, withLimits } from '../advice/support/rolled-pass.js';

const PASS = rolledPass({ seed: 3, speedMps: 0.25, durationS: 6, gdM3: 4e-6 });
const VERDICT = verdictOf(PASS);
const ASKER = new LiveAsker(PASS, { verdict: VERDICT });
const ask = (wish: WhatIfWish): LiveAnswer => ASKER.answer(wish);
const { stabilise } = PASS.sections;

/** The two follow the same arithmetic; only the share of a repeat may be rounded otherwise. */
const ROUNDING = { rel: 1e-9 };

function expectAlike(answer: PredictedOutcome, step: PredictedOutcome): void {
  expect(answer.grade).toBe(step.grade);
  for (const end of ['value', 'low', 'high'] as const) {
    expectWithin(answer.cropPercent[end], step.cropPercent[end], ROUNDING, `crop, ${end}`);
    expectWithin(answer.residualPx?.[end] ?? -1, step.residualPx?.[end] ?? -2, ROUNDING, `left, ${end}`);
  }
}

describe('a question that is answered at once', () => {
  it.each<[string, WhatIfWish]>([
    ['a longer lens', { focalLengthMm: 60 }],
    [
      'a narrower sensor and an upright delivery by name',
      { sensorWidthMm: 24, delivery: { name: 'phone upright' } },
    ],
    [
      'other limits and another speed',
      { delivery: { maxCropPercent: 2, maxResidualPx: 0.4 }, speedMps: 0.3 },
    ],
    ['a weaker smoothing', { smoothingS: 0.5 }],
    ['standing still', { mode: 'holdStill' }],
    ['longer axles with a wider lens', { wheelbaseM: 0.9, focalLengthMm: 28 }],
  ])('has crop, shake left and grade of the long answer: %s', (_, wish) => {
    const { then } = whatIf(PASS, wish, { verdict: VERDICT });
    if (then === null) throw new Error('the long answer was refused');
    const answer = ask(wish);
    expect(answer.refused).toBeNull();
    expect(answer.changed).toBe(true);
    expect(answer.grade).toBe(then.verdict.grade);
    expect(answer.outcome.coverable).toBe(then.coverable);
    expect([answer.mode, answer.smoothingS]).toEqual([then.mode, then.smoothingS]);
    for (const end of ['value', 'low', 'high'] as const) {
      expectWithin(answer.outcome.cropPercent[end], then.cropPercent[end], ROUNDING);
      expectWithin(answer.outcome.residualPx?.[end] ?? -1, then.residualPx?.[end] ?? -1, ROUNDING);
    }
    const deciding = then.verdict.reasons.filter(({ limit }) => limit !== null);
    expect(answer.reasons.map(({ text }) => text)).toEqual(deciding.map(({ text }) => text));
    expect(answer.delivery).toEqual(then.delivery);
  });

  it('has the figures of the advice for the lens and the speed that it names', () => {
    const steps = speedSteps(presentOf(PASS));
    if ('refused' in steps) throw new Error(steps.refused);
    const speedMps = Number(/At ([\d.]+) m\/s/.exec(steps[0].effect)?.[1]);
    expectAlike(ask({ speedMps }).outcome, steps[0].predicted);

    const [usual] = lensSteps(presentOf(PASS));
    const focalLengthMm = Number(/With an? ([\d.]+) mm lens/.exec(usual.effect)?.[1]);
    expectAlike(ask({ focalLengthMm }).outcome, usual.predicted);

    // Without millimetres the lens is a factor, printed in hundredths; the limit of shake left ends it.
    const factorOnly = { ...PASS.rig, focalLengthMm: undefined };
    const tight = withLimits({ ...PASS, rig: factorOnly }, 2, 0.15);
    const [longest] = lensSteps(presentOf(tight));
    const focalFactor = Number(/a lens ([\d.]+) times/.exec(longest.text)?.[1]);
    const answer = new LiveAsker(tight, { verdict: VERDICT }).answer({ focalFactor });
    expectAlike(answer.outcome, longest.predicted);
    expect(longest.effect).not.toMatch(/\d\.\d{5}/);
  });

  it('gives the stored figures bit for bit where nothing is asked, or what was', () => {
    for (const wish of [{}, { focalLengthMm: PASS.rig.focalLengthMm, speedMps: PASS.rig.speedMps }]) {
      const answer = ask(wish);
      expect(answer.changed).toBe(false);
      expect(answer.grade).toBe(VERDICT.grade);
      expect(answer.outcome.cropPercent.value).toBe(stabilise.cropPercent);
      expect(answer.outcome.residualPx?.value).toBe(stabilise.residual.rmsPx);
      expect(answer.zoom).toBe(stabilise.zoom);
      expect(answer.view.zoom).toBe(stabilise.zoom);
      expect(answer.reasons).toEqual(VERDICT.reasons.filter(({ limit }) => limit !== null));
    }
  });

  it('refuses in the words of the long answer, and leaves the figures as measured', () => {
    const unknown = { ...PASS.rig };
    delete unknown.speedMps;
    const pass: MeasuredPass = { ...PASS, rig: unknown, floor: null };
    const wish = { speedMps: 0.1 };
    const answer = new LiveAsker(pass, { verdict: VERDICT }).answer(wish);
    expect(answer.refused).toBe(whatIf(pass, wish, { verdict: VERDICT }).refused);
    expect(answer.refused).not.toBeNull();
    expect(answer.outcome.cropPercent.value).toBe(stabilise.cropPercent);
    const blind = { ...VERDICT, grade: 'unmeasurable' as const };
    expect(new LiveAsker(PASS, { verdict: blind }).answer({ focalLengthMm: 50 }).refused).toContain(
      VERDICT.reasons[0].text.slice(1),
    );
  });

  it('says the same whatever was asked before', () => {
    const wish = { speedMps: 0.3, smoothingS: 0.7 };
    const asked = new LiveAsker(PASS, { verdict: VERDICT });
    asked.curve({ speedMps: 0.3, smoothingS: 0.5 });
    asked.curve({ speedMps: 0.3 });
    expect({ ...asked.answer(wish), curve: asked.curve(wish) }).toEqual(
      liveAnswer(PASS, wish, { verdict: VERDICT }),
    );
  });
});

describe('the trade-off beside an answer', () => {
  it('holds the stored curve where nothing is asked, the chosen smoothing marked', () => {
    const curve = ASKER.curve({});
    expect(curve.map(({ smoothingS }) => smoothingS)).toEqual(
      stabilise.curve.map((point) => point.smoothingS),
    );
    curve.forEach(({ cropPercent, residualPx }, i) => {
      expect(cropPercent.value).toBe(stabilise.curve[i].cropPercent);
      expect(residualPx?.value).toBe(stabilise.curve[i].residualPx);
    });
    expect(curve.filter(({ chosen }) => chosen).map(({ smoothingS }) => smoothingS)).toEqual([
      stabilise.smoothingS,
    ]);
  });

  it('takes in the smoothing that is asked for, and every point is what asking for it answers', () => {
    const wish = { focalLengthMm: 50, speedMps: 0.3 };
    const curve = ASKER.curve({ ...wish, smoothingS: 0.6 });
    expect(curve.find(({ chosen }) => chosen)?.smoothingS).toBe(0.6);
    for (const { smoothingS, chosen, ...outcome } of curve)
      expect(outcome, chosen ? 'chosen' : 'other').toEqual(ask({ ...wish, smoothingS }).outcome);
  });
});

describe('a trade-off that is found in steps', () => {
  it('pauses after each point, and what is left off half-way is taken up again', () => {
    const wish = { focalLengthMm: 45 };
    const asker = new LiveAsker(PASS, { verdict: VERDICT });
    asker.curveInSteps(wish).next();
    const steps = asker.curveInSteps(wish);
    let pauses = 0;
    let step = steps.next();
    for (; step.done !== true; step = steps.next()) pauses++;
    expect(step.value).toEqual(ASKER.curve(wish));
    expect(pauses).toBe(step.value.length - 1);
  });
});

describe('what the frames of the clip show of a question', () => {
  it('is the middle of them under a longer lens, as large as that lens sees', () => {
    const { view, zoom, focalFactor } = ask({ focalLengthMm: 70 });
    expect(focalFactor).toBe(2);
    expect(view.camera).toBe(PASS.motion.camera);
    expect(view.zoom).toBe(2 * zoom);
    expect(view.lacks).toBeNull();
    expect(view.timeS).toHaveLength(PASS.motion.timeS.length);
  });

  it('is what was filmed where the question is of a wider lens or another speed', () => {
    for (const [wish, lacks] of [
      [{ focalLengthMm: 20 }, 'widerLens'],
      [{ speedMps: 0.4 }, 'speed'],
    ] as const) {
      const { view } = ask(wish);
      expect(view.lacks).toBe(lacks);
      expect(view.zoom).toBe(stabilise.zoom);
      expect(view.corrections.vibration.pan).toHaveLength(PASS.motion.timeS.length);
    }
  });

  it('has the shape of the delivery', () => {
    expectWithin(ask({ delivery: { name: 'phone upright' } }).view.shape, 16 / 9, ROUNDING);
  });
});
