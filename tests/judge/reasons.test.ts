/** Every reason that decides: value, limit, margin and the 95 % range that it was decided with. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { gradeAgainst, gradeFigures, judge, resolveDelivery, shakeGuidance } from '../../src/judge/index.js';
import { cropRange } from '../../src/judge/crop.js';
import { residualRange } from '../../src/judge/residual.js';
import { figureBeside, type RunDocument, type VerdictSection } from '../../src/run/index.js';
import { madeUpRun } from '../report/support/made-up-run.js';
import { setCrop } from '../report/support/made-up-stabilise.js';
import { expectWithin } from '../support/expect-within.js';
import { evenly } from '../support/evenly.js';

type Reason = VerdictSection['reasons'][number];

const RUN = madeUpRun();
const EXACT = { rel: 1e-12, why: 'the same sum in another order' };

/** The made-up run with angles known to 10 % and lateral and vertical shifts to 20 %, and a repeat that needs as much again. */
function plainRun(change: (run: RunDocument) => void = () => {}): RunDocument {
  const run = structuredClone(RUN);
  for (const axis of ['pan', 'tilt', 'roll'] as const)
    Object.assign(run.motion.angular[axis], { status: 'value', rmsDeg: 0.02, ci95Deg: [0.018, 0.022] });
  for (const axis of ['lateral', 'vertical'] as const)
    Object.assign(run.motion.translational[axis], { status: 'value', rms: 0.5, ci95: [0.4, 0.6] });
  const { causes } = run.stabilise.residual;
  causes.tracking.rmsPx = 0;
  setCrop(run.stabilise, 3);
  run.stabilise.again.upper95Percent = 3;
  change(run);
  return run;
}

function verdictOf(run: RunDocument): VerdictSection {
  return judge({ ...run, pass: null });
}

function reasonOf(run: RunDocument, prefix: string): Reason {
  const found = verdictOf(run).reasons.find(({ code }) => code.startsWith(prefix));
  if (!found) throw new Error(`no reason ${prefix}`);
  return found;
}

const cropAt = (percent: number, limit: number) =>
  plainRun((run) => {
    run.stabilise.cropPercent = percent;
    run.stabilise.again = { ...run.stabilise.again, medianPercent: percent, upper95Percent: percent };
    run.delivery.maxCropPercent = limit;
  });
const leftAt = (px: number, limit: number) =>
  plainRun((run) => {
    run.stabilise.residual.rmsPx = px;
    run.delivery.maxResidualPx = limit;
  });

describe('the range of a figure', () => {
  it('goes down with the angles, and up with them or with the repeat, whichever is more', () => {
    const { motion, stabilise } = cropAt(4, 5);
    const range = cropRange(motion, stabilise);
    expectWithin(range.low, 3.6, EXACT);
    expectWithin(range.high, 4.4, EXACT);
    const again = { ...stabilise.again, upper95Percent: 5 };
    expectWithin(cropRange(motion, { ...stabilise, again }).high, 5, EXACT);
  });

  it('of the smoothest path does not go up: a repeat fits into the crop that it is given', () => {
    const { motion, stabilise } = cropAt(4, 5);
    expect(cropRange(motion, { ...stabilise, mode: 'smoothest' }).high).toBe(4);
  });

  it('never leaves the picture', () => {
    const { motion, stabilise } = cropAt(94, 5);
    expect(cropRange(motion, stabilise).high).toBe(100);
  });

  it('of what stays is that of translation where translation stays, and that of the angles where the path does', () => {
    const moved = leftAt(1, 1);
    expectWithin(residualRange(moved.motion, moved.stabilise, 1).low, 0.8, EXACT);
    expectWithin(residualRange(moved.motion, moved.stabilise, 1).high, 1.2, EXACT);
    const turned = plainRun((run) => {
      const { causes } = run.stabilise.residual;
      causes.path.rmsPx = 2;
      if (causes.translation) causes.translation.rmsPx = 0;
    });
    expectWithin(residualRange(turned.motion, turned.stabilise, 1).low, 0.9, EXACT);
    const both = plainRun((run) => {
      const { causes } = run.stabilise.residual;
      causes.path.rmsPx = 0.4;
      if (causes.translation) causes.translation.rmsPx = 0.3;
    });
    // Closed form: hypot(0.3 x 0.8, 0.4 x 0.9) / 0.5.
    expectWithin(residualRange(both.motion, both.stabilise, 0.5).low, Math.hypot(0.24, 0.36), EXACT);
  });

  it('does not widen to nothing where translation is below the noise but the path still shakes', () => {
    const run = plainRun((draft) => {
      for (const axis of ['lateral', 'vertical', 'axial'] as const)
        Object.assign(draft.motion.translational[axis], {
          status: 'below',
          rms: null,
          ci95: null,
          below: 0.01,
        });
      draft.stabilise.residual.causes.path.rmsPx = 2.4;
      draft.stabilise.residual.rmsPx = 2.43;
    });
    expect(reasonOf(run, 'residual-').code).toBe('residual-over-limit');
  });
});

describe('the outcome at the limit', () => {
  // Range of the crop: 0.9 to 1.1 of the value. Of what stays: 0.8 to 1.2.
  it.each([
    ['crop-within-limit', 'pass', cropAt(4.5, 4.951)],
    ['crop-near-limit', 'marginal', cropAt(4.5, 4.949)],
    ['crop-near-limit', 'marginal', cropAt(4.5, 4.5)],
    ['crop-at-limit', 'marginal', cropAt(4.5, 4.499)],
    ['crop-at-limit', 'marginal', cropAt(4.5, 4.051)],
    ['crop-over-limit', 'fail', cropAt(4.5, 4.049)],
    ['residual-within-limit', 'pass', leftAt(1, 1.201)],
    ['residual-at-limit', 'marginal', leftAt(1, 1.199)],
    ['residual-at-limit', 'marginal', leftAt(1, 0.801)],
    ['residual-over-limit', 'fail', leftAt(1, 0.799)],
  ])('is %s, %s', (code, grade, run) => {
    run.delivery = {
      ...run.delivery,
      ...(code.startsWith('crop') ? { maxResidualPx: 10 } : { maxCropPercent: 50 }),
    };
    const verdict = verdictOf(run);
    const reason = reasonOf(run, code);
    expect(verdict.grade).toBe(grade);
    const [low, high] = reason.ci95 ?? [NaN, NaN];
    const { limit, value, margin } = reason;
    expect(margin).toBe((limit ?? NaN) - (value ?? NaN));
    expect(low <= (limit ?? NaN) && (limit ?? NaN) < high).toBe(grade === 'marginal');
  });

  it('of shake too small to be seen is told by its largest shift, whatever the crop allowed', () => {
    const run = cropAt(0.02, 0);
    const reason = reasonOf(run, 'crop-not-needed');
    const { notVisiblePeakPx } = shakeGuidance(run.delivery);
    // 0.02 % of 1920 px, half to each side.
    expect(reason).toMatchObject({ value: 0.192, limit: notVisiblePeakPx, unit: 'px peak' });
    expect(reason.text).toContain('0.19 px of the delivery at most, and less than 0.3 px is not seen');
    expect(verdictOf(run).grade).toBe('pass');
    // Somebody who sits closer sees it; so does a repeat that may shake twice as much.
    run.delivery.viewingDistanceHeights = 1.5;
    expect(verdictOf(run).grade).toBe('fail');
    run.delivery.viewingDistanceHeights = 3.1;
    run.stabilise.again.upper95Percent = 0.04;
    expect(reasonOf(run, 'crop-').code).toBe('crop-over-limit');
  });

  it('of what cannot be relied upon is marginal and has no range', () => {
    const run = plainRun((draft) => {
      draft.motion.unreliable = [{ axis: 'lateral', reason: 'The lens may bend lines.' }];
    });
    expect(reasonOf(run, 'residual-not-reliable')).toMatchObject({
      value: 0.4,
      limit: 0.83,
      margin: 0.83 - 0.4,
      ci95: null,
    });
    expect(verdictOf(run).grade).toBe('marginal');
  });

  it('of a bound goes from nothing to the bound', () => {
    const run = plainRun((draft) => {
      draft.motion.translational.observable = 'no';
      draft.motion.translational.parallaxP = 6;
      draft.stabilise.residual.rmsPx = 0.5;
    });
    expect(reasonOf(run, 'residual-bound').ci95).toEqual([0, 0.5]);
    run.delivery.maxResidualPx = 0.3;
    expect(reasonOf(run, 'translation-not-measured')).toMatchObject({ ci95: [0, 0.5], value: 0.5 });
    expect(verdictOf(run).grade).toBe('marginal');
  });

  it('of a bound that is not there is decided by parallax below the noise, in times the noise', () => {
    const run = plainRun((draft) => {
      draft.motion.translational.observable = 'no';
      draft.motion.translational.parallaxP = 1.4;
      Object.assign(draft.stabilise.residual, { rmsPx: null, parallaxPx: null });
    });
    expect(reasonOf(run, 'residual-below-noise')).toMatchObject({ value: 1.4, limit: 3, margin: 1.6 });
  });

  it('of rolling-shutter wobble hangs on whether the stabiliser corrects rows', () => {
    const wobble = (wholePx: number, rowsPx: number) =>
      plainRun((draft) => {
        draft.stabilise.rowsCorrected = true;
        draft.stabilise.residual.readoutPx = wholePx;
        const { causes } = draft.stabilise.residual;
        causes.readout = { rmsPx: rowsPx, p95Px: null, arcMinRms: rowsPx, arcMinP95: null };
        draft.delivery.maxResidualPx = 1;
        // Small beside the wobble, so that the total stays as it is.
        if (causes.translation) causes.translation.rmsPx = 1;
      });
    const some = reasonOf(wobble(2, 0.1), 'readout-wobble');
    expectWithin(some.ci95?.[0] ?? NaN, 0.09, EXACT);
    expectWithin(some.ci95?.[1] ?? NaN, 2.2, EXACT);
    expect(verdictOf(wobble(2, 0.1)).grade).toBe('marginal');
    expectWithin(reasonOf(wobble(0.95, 0.1), 'readout-wobble').margin ?? NaN, 0.05, {
      rel: 1e-9,
      why: '1 - 0.95',
    });
    expect(verdictOf(wobble(0.9, 0.1)).reasons.map(({ code }) => code)).not.toContain('readout-wobble');
    expect(verdictOf(wobble(3, 2)).grade).toBe('fail');
  });
});

describe('a clip that does not support a verdict', () => {
  it('says by how much it falls short, or goes beyond', () => {
    const few = plainRun((run) => (run.tracking.featuresMedian = 30));
    expect(verdictOf(few).reasons).toMatchObject([{ value: 30, limit: 40, margin: -10, ci95: null }]);
    const noisy = plainRun((run) => (run.tracking.noisePx = 0.5));
    const [reason] = verdictOf(noisy).reasons;
    expectWithin(reason.margin ?? NaN, -0.1, { rel: 1e-9, why: '0.4 - 0.5' });
  });
});

describe('every verdict that can be reached', () => {
  const figures = fc.record({
    crop: evenly(0, 40),
    maxCrop: evenly(0, 40),
    left: evenly(0.001, 5),
    maxLeft: evenly(0.01, 5),
    growth: evenly(1, 2),
    spread: evenly(0, 0.9),
    wobble: fc.option(evenly(0, 5)),
    heights: evenly(0.5, 12),
  });
  type Figures = typeof figures extends fc.Arbitrary<infer T> ? T : never;
  const runOf = (f: Figures): RunDocument =>
    plainRun((run) => {
      for (const axis of ['pan', 'tilt', 'roll'] as const)
        run.motion.angular[axis].ci95Deg = [0.02 * (1 - f.spread), 0.02 * (1 + f.spread)];
      for (const axis of ['lateral', 'vertical'] as const)
        run.motion.translational[axis].ci95 = [0.5 * (1 - f.spread), 0.5 * (1 + f.spread)];
      setCrop(run.stabilise, f.crop);
      run.stabilise.again.upper95Percent = f.growth * f.crop;
      run.stabilise.residual.rmsPx = f.left;
      run.stabilise.residual.readoutPx = f.wobble;
      run.delivery = resolveDelivery({
        widthPx: 1920,
        heightPx: 1080,
        maxCropPercent: f.maxCrop,
        maxResidualPx: f.maxLeft,
        viewingDistanceHeights: f.heights,
      });
    });
  const ORDER = ['pass', 'marginal', 'fail'];

  it('holds value, limit, margin and range in every reason that decides, and is decided by them', () => {
    fc.assert(
      fc.property(figures, (f) => {
        const verdict = verdictOf(runOf(f));
        const deciding = verdict.reasons.filter(({ limit }) => limit !== null);
        const grades = deciding.map(({ value, limit, margin, ci95 }) => {
          if (value === null || limit === null || margin === null || ci95 === null)
            throw new Error('a figure is missing');
          expect(margin).toBe(limit - value);
          expect(ci95[0] <= value && value <= ci95[1]).toBe(true);
          const grade = gradeAgainst({ value, low: ci95[0], high: ci95[1] }, limit);
          // A pass has room, a fail has none.
          if (grade !== 'marginal') expect(margin >= 0).toBe(grade === 'pass');
          expect(Math.sign(Number(figureBeside(value, limit)) - limit)).toBe(Math.sign(value - limit));
          return ORDER.indexOf(grade);
        });
        expect(ORDER.indexOf(verdict.grade)).toBe(Math.max(...grades));
      }),
      { seed: 11, numRuns: 150 },
    );
  });

  it('is the one that the same figures earn when they are foretold', () => {
    fc.assert(
      fc.property(figures, (f) => {
        const run = runOf({ ...f, wobble: null });
        const { motion, stabilise, delivery } = run;
        const left = residualRange(motion, stabilise, f.left);
        return gradeFigures(cropRange(motion, stabilise), left, delivery) === verdictOf(run).grade;
      }),
      { seed: 13, numRuns: 100 },
    );
  });

  it('gets no better when a limit falls or the viewer comes closer', () => {
    fc.assert(
      fc.property(
        figures,
        evenly(0, 1),
        fc.constantFrom('maxCrop' as const, 'maxLeft' as const, 'heights' as const),
        (f, share, what) => {
          const lower = { ...f, [what]: Math.max(what === 'heights' ? 0.3 : 0.001, share * f[what]) };
          const grade = (of: Figures): number => ORDER.indexOf(verdictOf(runOf(of)).grade);
          return grade(lower) >= grade(f);
        },
      ),
      { seed: 12, numRuns: 150 },
    );
  });
});
