import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { MEASURABLE, judge, keepsFromPass, type JudgeInput } from '../../src/judge/index.js';
import type { RunDocument, VerdictSection } from '../../src/run/index.js';
import { madeUpRun, type Change } from '../report/support/made-up-run.js';
import { MADE_UP_REPEAT, setCrop } from '../report/support/made-up-stabilise.js';
import { evenly } from '../support/evenly.js';

function verdictOf(change: Change): VerdictSection {
  return madeUpRun(change).verdict;
}

const codes = (verdict: VerdictSection): string[] => verdict.reasons.map(({ code }) => code);
const reason = (verdict: VerdictSection, code: string): VerdictSection['reasons'][number] => {
  const found = verdict.reasons.find((r) => r.code === code);
  if (!found) throw new Error(`no reason ${code} in ${codes(verdict).join(', ')}`);
  return found;
};
const cropTo =
  (percent: number): Change =>
  (run) =>
    setCrop(run.stabilise, percent);

describe('the crop', () => {
  it('passes when this pass and a repeat of it fit the limit', () => {
    const verdict = verdictOf(cropTo(5 / MADE_UP_REPEAT - 0.01));
    expect(verdict.grade).toBe('pass');
    expect(reason(verdict, 'crop-within-limit')).toMatchObject({ limit: 5, unit: '%' });
  });

  it('is marginal when this pass fits but a repeat may not', () => {
    const verdict = verdictOf(cropTo(4.4));
    expect(verdict.grade).toBe('marginal');
    expect(reason(verdict, 'crop-near-limit').text).toContain('6 %');
  });

  it('fails when the whole measuring range lies over the limit, and says by how much less shake it would fit', () => {
    const verdict = verdictOf(cropTo(8));
    expect(verdict.grade).toBe('fail');
    expect(verdict.reasons[0]).toMatchObject({ code: 'crop-over-limit', value: 8, limit: 5 });
    expect(verdict.advice.find(({ code }) => code === 'less-shake')?.text).toContain('62 %');
  });

  it('is marginal when the measuring error reaches back across the limit', () => {
    const verdict = verdictOf((run) => {
      run.stabilise.cropPercent = 5.2;
      for (const axis of ['pan', 'tilt', 'roll'] as const) {
        const { rmsDeg } = run.motion.angular[axis];
        run.motion.angular[axis].ci95Deg = [0.9 * (rmsDeg ?? 0), 1.1 * (rmsDeg ?? 0)];
      }
    });
    expect(codes(verdict)[0]).toBe('crop-at-limit');
    expect(verdict.grade).toBe('marginal');
  });

  it('offers less smoothing and a breathing crop when the numbers show that they fit', () => {
    const verdict = verdictOf(cropTo(8));
    const advice = verdict.advice.map(({ code }) => code);
    expect(advice).toEqual(expect.arrayContaining(['smooth-less', 'moving-crop', 'shim-bump']));
    // The widest smoothing of the curve below 1.25 s that fits 5 % is 0.8 s.
    expect(verdict.advice.find(({ code }) => code === 'smooth-less')?.text).toContain('0.8 s');
  });

  it('offers no smoothing that would leave more shake than is allowed, but the smoothest path where it fits', () => {
    const verdict = verdictOf((run) => {
      setCrop(run.stabilise, 8);
      run.stabilise.curve = run.stabilise.curve.map((point) => ({ ...point, residualPx: 1.2 }));
    });
    const advice = verdict.advice.map(({ code }) => code);
    expect(advice).not.toContain('smooth-less');
    expect(advice).toContain('smoothest-path');
    const rough = verdictOf((run) => {
      setCrop(run.stabilise, 8);
      run.stabilise.modes[2].residualPx = 1.2;
    });
    expect(rough.advice.map(({ code }) => code)).not.toContain('smoothest-path');
  });

  it('never says that nothing is needed when the crop fails, and asks for no floor that nobody has', () => {
    const verdict = verdictOf((run) => {
      setCrop(run.stabilise, 8);
      run.delivery.maxCropPercent = 0;
      run.stabilise.curve = [];
    });
    const advice = verdict.advice.map(({ code }) => code);
    expect(verdict.grade).toBe('fail');
    expect(advice).toContain('allow-crop');
    expect(advice).not.toContain('nothing-needed');
    expect(advice).not.toContain('less-shake');
  });

  it('asks to keep the move where holding still pays for slow drift', () => {
    const verdict = verdictOf((run) => {
      setCrop(run.stabilise, 8);
      run.stabilise.mode = 'holdStill';
      run.stabilise.smoothingS = null;
    });
    expect(verdict.advice[0].code).toBe('keep-the-move');
    expect(verdict.advice.map(({ code }) => code)).not.toContain('less-shake');
  });

  it('asks for nothing when the shake is too small to be seen', () => {
    const verdict = verdictOf((run) => {
      setCrop(run.stabilise, 0.02);
      run.delivery.maxCropPercent = 0;
    });
    expect(verdict.grade).toBe('pass');
    expect(verdict.advice.map(({ code }) => code)).toEqual(['nothing-needed']);
  });
});

describe('what stays after stabilising', () => {
  it('fails when the whole range lies over the limit, and says that stabilising will not help', () => {
    const verdict = verdictOf((run) => (run.stabilise.residual.rmsPx = 2.4));
    expect(verdict.grade).toBe('fail');
    expect(codes(verdict)[0]).toBe('residual-over-limit');
    expect(verdict.advice[0].code).toBe('change-surface');
  });

  it('says so when it is the chosen path that leaves the shake, and asks for more smoothing', () => {
    const verdict = verdictOf((run) => {
      run.stabilise.residual.rmsPx = 2.4;
      run.stabilise.residual.causes.path.rmsPx = 2.3;
    });
    expect(verdict.reasons[0].code).toBe('residual-over-limit');
    expect(verdict.reasons[0].text).toContain('the chosen path still follows');
    expect(verdict.advice[0].code).toBe('smooth-more');
  });

  it('is marginal when the range straddles the limit, and tells how far rather than promise', () => {
    const verdict = verdictOf((run) => {
      run.stabilise.residual.rmsPx = 0.8;
      run.motion.translational.vertical.ci95 = [0.1, 0.4];
    });
    const { code, effect } = verdict.advice[0];
    expect(code).toBe('change-surface');
    expect(
      Number(/^It may be as much as ([\d.]+) px; 0\.83 px are allowed\.$/.exec(effect)?.[1]),
    ).toBeGreaterThan(0.83);
    expect(verdict.grade).toBe('marginal');
    expect(codes(verdict)[0]).toBe('residual-at-limit');
  });

  const hidden: Change = (run) => {
    run.motion.translational.observable = 'no';
    run.motion.translational.reason = 'the scene is flat and the lens long';
    run.motion.translational.parallaxP = 6;
    for (const axis of ['lateral', 'vertical', 'axial'] as const)
      Object.assign(run.motion.translational[axis], {
        status: 'notObservable',
        rms: null,
        ci95: null,
        below: null,
      });
    const { residual } = run.stabilise;
    Object.assign(residual, {
      rmsPx: null,
      p95Px: null,
      parallaxPx: null,
      blurPx: null,
      readoutPx: null,
      total: null,
    });
    Object.assign(residual.causes, { translation: null, parallax: null, blur: null });
  };

  it('never passes silently when translation cannot be told from rotation', () => {
    const verdict = verdictOf(hidden);
    expect(verdict.grade).toBe('marginal');
    expect(verdict.reasons[0].text).toContain('could not be measured');
    expect(verdict.reasons[0].text).toContain('The scene is flat');
    expect(verdict.advice.map(({ code }) => code)).toContain('show-depth');
  });

  it('does not decide on translation that is not reliable', () => {
    const verdict = verdictOf((run) => {
      run.motion.readout.state = 'corrected';
      run.motion.unreliable = [{ axis: 'vertical', reason: 'Knocks were faster than the frames.' }];
    });
    expect(verdict.grade).toBe('marginal');
    expect(verdict.reasons[0].code).toBe('residual-not-reliable');
    expect(verdict.reasons[0].text).toContain('vertical motion is not reliable');
    expect(verdict.advice.map(({ code }) => code)).toContain('faster-readout');
  });

  it('asks for a calibration where it is the lens that makes translation unreliable', () => {
    const verdict = verdictOf((run) => {
      run.motion.distortion.state = 'notMeasurable';
      run.motion.unreliable = [{ axis: 'lateral', reason: 'The lens may bend lines.' }];
    });
    const codes = verdict.advice.map(({ code }) => code);
    expect(codes).toContain('calibrate-lens');
    expect(codes).not.toContain('faster-readout');
  });

  it('passes on a bound that lies under the limit', () => {
    const verdict = verdictOf((run) => {
      hidden(run);
      run.stabilise.residual.rmsPx = 0.5;
    });
    expect(verdict.grade).toBe('pass');
    expect(codes(verdict)).toContain('residual-bound-within-limit');
  });

  it('passes when parallax itself is below the tracking noise, and says so', () => {
    const verdict = verdictOf((run) => {
      hidden(run);
      run.motion.translational.parallaxP = 1.4;
    });
    expect(verdict.grade).toBe('pass');
    expect(reason(verdict, 'residual-below-noise').text).toContain('not measured');
  });

  it('is marginal when the rolling shutter leaves more than the limit', () => {
    const verdict = verdictOf((run) => (run.stabilise.residual.readoutPx = 1.9));
    expect(verdict.grade).toBe('marginal');
    expect(verdict.advice.map(({ code }) => code)).toContain('correct-rows');
  });
});

describe('a clip that does not support a verdict', () => {
  const blockers: [string, Change][] = [
    ['too-few-tracks', (run) => (run.tracking.featuresMedian = MEASURABLE.leastTracks - 1)],
    ['coverage-too-small', (run) => (run.tracking.coverage = 0.05)],
    ['subject-fills-frame', (run) => (run.tracking.inlierShare = 0.2)],
    [
      'no-camera-path',
      (run) => {
        run.tracking.inlierShare = 0;
        for (const axis of ['pan', 'tilt', 'roll'] as const)
          run.motion.angular[axis].status = 'notObservable';
      },
    ],
    ['noise-too-large', (run) => (run.tracking.noisePx = 0.5)],
    ['too-short', (run) => (run.clip.rangeS = [3, 5.4])],
    ['too-short', (run) => (run.clip.frameCount = 24)],
    ['too-many-frames-rejected', (run) => (run.tracking.rejectedFrames = 120)],
  ];
  it.each(blockers)(
    'is unmeasurable with reason %s and one plain reshoot advice, whatever the crop says',
    (code, change) => {
      const verdict = verdictOf((run) => {
        run.stabilise.cropPercent = 30;
        change(run);
      });
      expect(verdict.grade).toBe('unmeasurable');
      expect(codes(verdict)).toEqual([code]);
      expect(verdict.advice).toHaveLength(1);
    },
  );

  it('allows noise in step with the analysis width', () => {
    const change =
      (widthPx: number): Change =>
      (run) => {
        run.tracking.noisePx = 0.5;
        run.tracking.analysisWidthPx = widthPx;
      };
    expect(verdictOf(change(960)).grade).toBe('unmeasurable');
    expect(verdictOf(change(1920)).grade).toBe('pass');
  });
});

describe('every verdict', () => {
  const input = (run: RunDocument): JudgeInput => ({ ...run, pass: null });

  it('does not change what it reads and repeats itself exactly', () => {
    const run = madeUpRun();
    const before = structuredClone(run);
    expect(judge(input(run))).toEqual(judge(input(run)));
    expect(run).toEqual(before);
  });

  it('grows no better when the crop grows', () => {
    const order = ['pass', 'marginal', 'fail'];
    const run = madeUpRun();
    fc.assert(
      fc.property(evenly(0, 40), evenly(0, 40), (a, b) => {
        const grade = (cropPercent: number): number => {
          const stabilise = structuredClone(run.stabilise);
          setCrop(stabilise, cropPercent);
          return order.indexOf(judge({ ...run, stabilise, pass: null }).grade);
        };
        return grade(Math.min(a, b)) <= grade(Math.max(a, b));
      }),
      { seed: 1, numRuns: 200 },
    );
  });

  it('prints a crop on the side of the limit on which it lies', () => {
    const run = madeUpRun();
    for (const cropPercent of [5 + 1e-4, 5 + 4e-7, 5 - 1e-4]) {
      const { text, value } = judge({ ...run, stabilise: { ...run.stabilise, cropPercent }, pass: null })
        .reasons[0];
      const printed = Number(/([\d.]+) % of the frame width/.exec(text)?.[1]);
      expect(value).toBe(cropPercent);
      expect(Math.sign(printed - 5)).toBe(Math.sign(cropPercent - 5));
    }
  });

  it('is kept from pass by a reason exactly when it is no pass', () => {
    fc.assert(
      fc.property(
        evenly(0, 12),
        fc.option(evenly(0, 2)),
        fc.boolean(),
        fc.constantFrom('yes', 'flagged', 'no'),
        (cropPercent, rmsPx, doubtful, observable) => {
          const { grade, reasons } = verdictOf((run) => {
            setCrop(run.stabilise, cropPercent);
            Object.assign(run.stabilise.residual, { rmsPx, parallaxPx: null });
            run.motion.translational.observable = observable;
            run.motion.translational.parallaxP = 1.4;
            if (doubtful) run.motion.unreliable = [{ axis: 'lateral', reason: 'The lens may bend lines.' }];
          });
          expect(reasons.some(keepsFromPass)).toBe(grade !== 'pass');
        },
      ),
      { seed: 2, numRuns: 60 },
    );
  });

  it('ends with notes that carry no limit', () => {
    const verdict = madeUpRun().verdict;
    const notes = verdict.reasons.filter(({ limit }) => limit === null);
    expect(notes.map(({ code }) => code)).toEqual([
      'longer-take-over-limit',
      'angular-share',
      'surface-class',
    ]);
    expect(verdict.reasons.slice(-notes.length)).toEqual(notes);
  });
});

describe('the note on a longer take', () => {
  const noteOf = (change: Change = () => {}): string | undefined =>
    verdictOf(change).reasons.find(({ code }) => code === 'longer-take-over-limit')?.text;
  const takeOf = (change: Partial<RunDocument['stabilise']['longerTake'][number]>): Change => {
    return (run) => Object.assign(run.stabilise.longerTake[1], change);
  };

  it('says beside a pass what the take may need, and decides nothing', () => {
    const { grade, reasons } = madeUpRun().verdict;
    expect(grade).toBe('pass');
    expect(reasons.find(({ code }) => code === 'longer-take-over-limit')).toMatchObject({
      text: 'A 60 s take on a floor like this may need up to 5.9 % (19 in 20 stay below); 5 % is allowed.',
      limit: null,
      margin: null,
    });
  });

  it('says more where hits are rare, and where no picture would be left', () => {
    expect(noteOf(takeOf({ atLeast: true }))).toContain('5.9 % or more (the test holds few hits); 5 %');
    expect(noteOf(takeOf({ upper95Percent: 70 }))).toContain('more than half of the picture; 5 %');
  });

  it.each([
    ['that fits', takeOf({ upper95Percent: 5 })],
    ['without a bound', takeOf({ upper95Percent: null })],
    ['without a middle', takeOf({ medianPercent: null })],
    [
      'of which the shake is not seen',
      (run) => {
        run.delivery.maxCropPercent = 0;
        takeOf({ medianPercent: 0.01, upper95Percent: 0.02 })(run);
      },
    ],
    ['where the move is not kept', (run) => (run.stabilise.mode = 'holdStill')],
  ] satisfies [string, Change][])('is not made of a take %s', (_, change) => {
    expect(noteOf(change)).toBeUndefined();
  });
});

describe('the frame for the day', () => {
  const effectOf = (upper95Percent: number): string | undefined =>
    verdictOf((run) => {
      run.stabilise.longerTake[1].upper95Percent = upper95Percent;
    }).advice.find(({ code }) => code === 'frame-wider')?.effect;

  it('names a longer take only where it asks for more than the repeat', () => {
    const { reservePercent } = madeUpRun().stabilise.recommended;
    const wider = Number(/frame ([\d.]+) % wider, reserve included\.$/.exec(effectOf(5.9) ?? '')?.[1]);
    // What is framed wider has to cover the crop and the reserve, in figures as printed.
    expect(100 - 100 / (1 + wider / 100)).toBeGreaterThanOrEqual(5.9 + reservePercent);
    expect(wider).toBeLessThan(7);
    expect(effectOf(2)).toMatch(/reserve included\.$/);
  });
});
