import { describe, expect, it } from 'vitest';
import { figuresOf, outcomeOf, type MeasuredPass } from '../../../src/judge/index.js';
import { applyChanges } from '../../../src/judge/changes/apply-changes.js';
import { isRefused } from '../../../src/judge/changes/types.js';
import { MOST_STEPS } from '../../../src/judge/advice/advise.js';
import { lensSteps, noLensDoes } from '../../../src/judge/advice/lens.js';
import { postSteps } from '../../../src/judge/advice/post.js';
import { byOutcome, presentOf, worstOf } from '../../../src/judge/advice/present.js';
import { ringingSpeeds } from '../../../src/judge/advice/ringing.js';
import { shimSteps } from '../../../src/judge/advice/shim.js';
import { sourceSteps } from '../../../src/judge/advice/sources.js';
import { scanSpeeds, speedSteps } from '../../../src/judge/advice/speed.js';
import type { ForetoldStep } from '../../../src/judge/advice/step.js';
import { wheelSteps } from '../../../src/judge/advice/wheels.js';
import { boardSteps, laidSurfaceSteps } from '../../../src/judge/advice/boards.js';
import { cameraAtFocal } from '../../../src/stabilise/index.js';
import { surfaceClass } from '../../../src/surface/index.js';
import type { PredictedOutcome, Ranged, SurfaceSection } from '../../../src/run/index.js';
import { madeUpRun } from '../../report/support/made-up-run.js';
import { withSources } from './support/named-source.js';
import { rolledPass, verdictOf, withLimits } from './support/rolled-pass.js';
import { faultsInImperial, quantitiesOf } from '../../texts/support/optics-kept.js';

/** A rough floor under a long lens: crop and shake left are both over their limits. */
const rough = rolledPass({ seed: 1, gdM3: 1.6e-5, focalFactor: 3, delivery: { maxCropPercent: 1 } });
/** A tiled floor: six joints set the crop. */
const tiled = rolledPass({
  seed: 2,
  gdM3: 4e-6,
  speedMps: 0.3,
  focalFactor: 3,
  delivery: { maxCropPercent: 1 },
  joints: { spacingM: 0.6, lippageM: 6e-4, gapWidthM: 0.004, gapDepthM: 0.001 },
});
/** The rough floor where more is allowed: a pass that has to be stabilised. */
const easy = withLimits(rough, 5, 3);

function offered(steps: ReturnType<typeof speedSteps>): ForetoldStep[] {
  if ('refused' in steps) throw new Error(steps.refused);
  return steps;
}

const onRough = verdictOf(rough);
const onTiled = verdictOf(tiled);
const settings = (steps: readonly ForetoldStep[]): string[] => steps.map(({ code }) => code);

describe('a pass that passes', () => {
  it('says "Nothing needed." and nothing else when its shake cannot be seen', () => {
    const still = rolledPass({ seed: 1, gdM3: 1e-9, focalFactor: 0.4, noiseFactor: 0.1 });
    const { grade, advice } = verdictOf(still);
    expect(grade).toBe('pass');
    expect(advice).toEqual([
      {
        code: 'nothing-needed',
        text: 'Nothing needed.',
        effect: 'The shake is too small to be seen at the delivery size.',
        predicted: null,
      },
    ]);
  });

  it('says how to frame for the day and how long a lens may be when it has to be stabilised, and asks for no change', () => {
    const { grade, advice } = verdictOf(easy);
    const [framing, longest] = advice;
    expect(grade).toBe('pass');
    expect([framing.code, longest.code]).toEqual(['frame-wider', 'longest-lens']);
    expect(longest.predicted?.grade).toBe('pass');
    expect(advice.map(({ code }) => code)).not.toContain('nothing-needed');
    expect(advice.map(({ code }) => code)).not.toContain('other-speed');
  });

  it('keeps to the sections where there is no motion, and foretells nothing then', () => {
    const { advice } = madeUpRun((run) => (run.stabilise.residual.rmsPx = 2.4)).verdict;
    expect(advice[0].code).toBe('change-surface');
    expect(advice.every(({ predicted }) => predicted === null)).toBe(true);
  });
});

describe('the whole advice', () => {
  it.each([
    ['the rough floor', rough, onRough],
    ['the tiled floor', tiled, onTiled],
  ])(
    'of %s is short, repeats itself exactly, and every change that it offers brings less',
    (_, pass, { advice }) => {
      expect(verdictOf(pass).advice).toEqual(advice);
      expect(advice.length).toBeLessThanOrEqual(MOST_STEPS);
      // What the schema of the document refuses would end the whole measurement.
      for (const step of advice) expect(Object.keys(step)).toEqual(['code', 'text', 'effect', 'predicted']);
      expect(advice.map(({ code }) => code)).not.toContain('nothing-needed');
      const present = presentOf(pass);
      const offers = advice.filter(({ predicted, code }) => predicted !== null && code !== 'allow-crop');
      expect(offers.length).toBeGreaterThan(1);
      for (const { predicted } of offers)
        expect(worstOf(predicted as PredictedOutcome, present)).toBeLessThan(worstOf(present.now, present));
    },
  );

  it('puts what passes before what may pass, and that before what still fails', () => {
    const order = ['pass', 'marginal', 'fail'];
    const grades = onRough.advice
      .filter(({ code, predicted }) => predicted !== null && code !== 'allow-crop')
      .map(({ predicted }) => order.indexOf(predicted?.grade ?? ''));
    expect(new Set(grades).size).toBeGreaterThan(1);
    expect(grades).toEqual([...grades].sort((a, b) => a - b));
  });

  it('says what to give when an input stands in the way of the steps on the floor', () => {
    const unknown: MeasuredPass = { ...rough, floor: null, rig: { ...rough.rig, speedMps: undefined } };
    const { advice } = verdictOf(unknown);
    const more = advice.find(({ code }) => code === 'give-more');
    expect(more?.text).toContain('speed');
    expect(advice.map(({ code }) => code)).not.toContain('other-speed');
    expect(advice.map(({ code }) => code)).not.toContain('boards-or-rail');
    const surface = { ...rough.sections.surface, reason: 'Give the wheelbase.' };
    const ungraded: MeasuredPass = { ...rough, floor: null, sections: { ...rough.sections, surface } };
    expect(verdictOf(ungraded).advice.find(({ code }) => code === 'give-more')?.text).toBe(
      'Give the wheelbase.',
    );
  });

  it('stands by the grade that it brings, a crop to allow among them, and alternatives before what comes in addition', () => {
    const order = ['pass', 'marginal', 'fail'];
    for (const { advice } of [onTiled, onRough]) {
      const grades = advice.map(({ predicted }) => predicted && order.indexOf(predicted.grade));
      const [, ...foretold] = grades.map((grade) => grade ?? order.length);
      expect(foretold).toEqual([...foretold].sort((a, b) => a - b));
    }
    expect(settings(onTiled.advice as ForetoldStep[]).indexOf('allow-crop')).toBeLessThan(
      settings(onTiled.advice as ForetoldStep[]).indexOf('shorter-shutter'),
    );
  });

  it('asks for nothing that stays over a limit by a figure that it makes worse', () => {
    const present = presentOf(rough);
    const { now } = present;
    const times = (figure: Ranged | null, factor: number): Ranged => ({
      value: factor * (figure?.value ?? 0),
      low: factor * (figure?.low ?? 0),
      high: factor * (figure?.high ?? 0),
    });
    // The crop is over its limit by far more than the shake left is.
    const limits = { ...present.limits, residualPx: 0.9 * (now.residualPx?.low ?? 0) };
    const tight = { ...present, limits };
    const then = (left: number): PredictedOutcome => ({
      ...now,
      cropPercent: times(now.cropPercent, 0.5),
      residualPx: times(now.residualPx, left),
      grade: 'fail',
    });
    expect(byOutcome(tight, then(1)).helps).toBe(true);
    expect(byOutcome(tight, then(1.1)).helps).toBe(false);
  });

  it('names the crop to allow with what it costs, and grades it by what is then left', () => {
    const step = onTiled.advice.find(({ code }) => code === 'allow-crop');
    expect(step?.text).toMatch(/^Allow 2\.5 % of crop and frame 2\.3 % wider/);
    expect(step?.predicted?.grade).toBe('pass');
    expect(onRough.advice.find(({ code }) => code === 'allow-crop')?.predicted?.grade).toBe('fail');
  });

  it('asks for a shutter as short as the light allows where no angle was found', () => {
    const { advice } = madeUpRun((run) => {
      run.stabilise.recommended.shutterAngleDeg = null;
      run.stabilise.residual.blurPx = 0.9;
    }).verdict;
    expect(advice.find(({ code }) => code === 'shorter-shutter')?.text).toBe(
      'Use a shutter as short as the light allows; no angle is named, for pulsing below 1 px is let pass.',
    );
  });

  it('keeps its lenses in millimetres for a crew that reads feet and inches, and nothing else', () => {
    const sentences = [onTiled, onRough].flatMap(({ advice }) =>
      advice.flatMap(({ text, effect }) => [text, effect]),
    );
    expect(sentences.some((sentence) => quantitiesOf(sentence).optics.length > 0)).toBe(true);
    expect(faultsInImperial(sentences)).toEqual([]);
  });

  it('reads as a crew reads it', () => {
    expect(onTiled.advice.map(({ text, effect }) => `${text} ${effect}`)).toMatchInlineSnapshot(`
      [
        "Lay boards or rail without joints, of class A-3 or smoother ("silk"). On class A-3: crop falls from 1.5 to 0.21 % (0.14 to 0.35 %), shake left from 0.73 to 0.19 px (0.17 to 0.24 px): passes. Taken for granted: the boards or rail lie without joints that are felt and do not give under the wheels.",
        "Use a lens of 67 mm or shorter; a 35 mm lens leaves room for a repeat of the move. With a 35 mm lens: crop falls from 1.5 to 0.59 % (0.57 to 0.8 %), shake left from 0.73 to 0.26 px (0.25 to 0.28 px): passes.",
        "Allow 2.5 % of crop and frame 2.3 % wider for it and a repeat of the move (44 px of 1920), with a lens of 103 mm or shorter. Stabilising costs 1.5 %; the limit of 1 % is the crew's own.",
        "Shim or bridge all 6 joints and bumps of the list. Crop falls from 1.5 to 0.77 % (0.74 to 1.1 %), shake left from 0.73 to 0.53 px (0.48 to 0.57 px): may pass, within the limits as expected and over one at worst. Taken for granted: the shims hold and the ramps on either side are long.",
        "Use soft tyres of the same size. Crop falls from 1.5 to 1.4 % (0.98 to 2 %), shake left from 0.73 to 0.67 px (0.5 to 0.9 px): may pass, over the limit as expected and within it at best. Taken for granted: the wheels keep to the floor and do not bounce.",
        "Use a shutter of 39 degrees or less. Blur that pulses falls from 4.4 to 0.98 px. The exposure has to be made up by light or stop.",
      ]
    `);
  });
});

describe('steps in post', () => {
  it('asks to keep the move where standing still pays for drift', () => {
    const wandering: MeasuredPass = { ...tiled, choice: { ...tiled.choice, mode: 'holdStill' } };
    const still = postSteps(presentOf(wandering)).find(({ code }) => code === 'keep-the-move');
    const kept = figuresOf(tiled, tiled.motion);
    expect(still?.predicted.cropPercent.value).toBe(kept.cropPercent);
    expect(settings(postSteps(presentOf(tiled)))).not.toContain('keep-the-move');
  });

  it('foretells another smoothing as the plan itself computes it', () => {
    const tight = withLimits(tiled, 1.2, 3);
    const step = postSteps(presentOf(tight)).find(({ code }) => code === 'smooth-less');
    const smoothingS = Number(/over ([\d.]+) s/.exec(step?.text ?? '')?.[1]);
    expect(step?.predicted.cropPercent.value).toBe(
      figuresOf(tight, tight.motion, { choice: { smoothingS } }).cropPercent,
    );
  });
});

describe('the lens', () => {
  it('is offered as the longest that keeps the limits, with the figures of a usual one', () => {
    const [step] = lensSteps(presentOf(rough));
    const longestMm = 105 * (rough.sections.stabilise.recommended.longestLens?.factor ?? 0);
    expect(step.text).toContain(`Use a lens of ${Math.floor(longestMm)} mm or shorter`);
    const takenMm = Number(/^With an? ([\d.]+) mm lens:/.exec(step.effect)?.[1]);
    const camera = cameraAtFocal(rough.motion.camera, takenMm / 105);
    expect(step.predicted).toEqual(outcomeOf(rough, presentOf(rough).measured, { camera }));
    expect(step.predicted.grade).toBe('pass');
  });

  it('is told as a factor where its millimetres are not known', () => {
    const [step] = lensSteps(presentOf({ ...rough, rig: { ...rough.rig, focalLengthMm: undefined } }));
    expect(step.text).toMatch(/^Use a lens 0\.\d+ times as long as this one, or shorter\.$/);
  });

  it('is not offered where none does, and that is said', () => {
    const { sections } = rough;
    const hopeless: MeasuredPass = {
      ...rough,
      sections: {
        ...sections,
        stabilise: {
          ...sections.stabilise,
          recommended: { ...sections.stabilise.recommended, longestLens: null },
        },
      },
    };
    expect(lensSteps(presentOf(hopeless))).toEqual([]);
    expect(noLensDoes(presentOf(hopeless)).map(({ code }) => code)).toEqual(['no-lens-does']);
    expect(noLensDoes(presentOf(rough))).toEqual([]);
  });
});

describe('the speed', () => {
  it('is told as a range whose printed edges keep the limits, with the figures of a speed within', () => {
    const within = withLimits(rough, 1.6, 0.8);
    const present = presentOf(within);
    const [step] = offered(speedSteps(present));
    const [, low, high] = /^Roll at ([\d.]+) to ([\d.]+) m\/s instead of 0\.2 m\/s\./.exec(step.text) ?? [];
    expect(Number(high)).toBeLessThan(0.2);
    for (const edge of [low, high]) {
      const changed = applyChanges(within, [{ what: 'speed', speedMps: Number(edge) }]);
      if (isRefused(changed)) throw new Error(changed.refused);
      expect(worstOf(outcomeOf(within, changed), present)).toBeLessThanOrEqual(1);
    }
    expect(step.predicted.residualPx?.value).toBeLessThan(0.8);
  });

  it('keeps to the smoothing that was asked for, and leaves out speeds that it does not fit', () => {
    const weak: MeasuredPass = { ...rough, choice: { ...rough.choice, smoothingS: 0.15 } };
    expect(() => speedSteps(presentOf(weak))).not.toThrow();
  });

  it('looks from two fifths to two and a half times the present one, in even ratios', () => {
    const speeds = scanSpeeds(0.2);
    expect(speeds[0]).toBeCloseTo(0.08, 12);
    expect(speeds[6]).toBeCloseTo(0.2, 12);
    expect(speeds[12]).toBeCloseTo(0.5, 12);
  });

  it('names the speed at which a wheel meets the ringing of the mount, f = v / wavelength, and how much louder it then is', () => {
    const ringing = withSources(rough, [
      { cause: 'mount', freqHz: 7, widthHz: 0.7, shiftPx: 0.1 },
      { cause: 'wheel', freqHz: 3.5, shiftPx: 0.2 },
    ]);
    const [loudest] = ringingSpeeds(ringing, 0.2, [0.1, 0.5]);
    // A turn every 57 mm: at 0.4 m/s seven of them a second.
    expect(loudest.speedMps).toBeCloseTo(0.4, 12);
    expect(loudest.by).toBe('wheel');
    // Damping 0.05: gain 10.05 at the top, 1.33 at half the frequency; pictures of 960 px delivered at 1920.
    expect(loudest.thenPx / loudest.nowPx).toBeCloseTo(10.05 / 1.33, 1);
    expect(loudest.nowPx).toBeCloseTo(0.4, 12);
    expect(ringingSpeeds(ringing, 0.2, [0.1, 0.3])).toEqual([]);
    expect(ringingSpeeds(withSources(rough, [{ cause: 'wheel', freqHz: 3.5 }]), 0.2, [0.1, 0.5])).toEqual([]);
  });
});

describe('joints to shim', () => {
  it('are the fewest that do, the ones that help most, with their places', () => {
    const onlyTwo = withJoints(tiled, 2);
    const [step] = offered(shimSteps(presentOf(onlyTwo)));
    const changed = applyChanges(onlyTwo, [{ what: 'shim', bumps: placesIn(onlyTwo, step.text) }]);
    if (isRefused(changed)) throw new Error(changed.refused);
    expect(placesIn(onlyTwo, step.text).length).toBeLessThanOrEqual(2);
    expect(step.predicted).toEqual(outcomeOf(onlyTwo, changed));
  });

  it('are told as all of them where more are needed than can be named', () => {
    const [step] = offered(shimSteps(presentOf(tiled)));
    expect(step.text).toBe('Shim or bridge all 6 joints and bumps of the list.');
  });

  it('are told as the row where there is nothing else', () => {
    const { surface } = tiled.sections;
    const joints: SurfaceSection['joints'] = {
      spacingM: 0.6,
      spacingRangeM: 0.001,
      count: surface.bumps.length,
      seen: surface.bumps.length,
      firstM: 0.3,
      stepRmsMm: 0.6,
      lnEvidence: 20,
    };
    const textWith = (count: number): string => {
      const laid = { ...surface, joints: { ...joints, count } };
      return offered(shimSteps(presentOf({ ...tiled, sections: { ...tiled.sections, surface: laid } })))[0]
        .text;
    };
    expect(textWith(6)).toBe('Shim or bridge all 6 joints of the row, 0.60 m apart.');
    expect(textWith(4)).toBe(
      'Shim or bridge all 6 joints and bumps of the list, 4 of them a row 0.60 m apart.',
    );
  });

  it('are not asked for on a floor without any', () => {
    expect(shimSteps(presentOf(rough))).toEqual([]);
  });

  function withJoints(pass: MeasuredPass, count: number): MeasuredPass {
    const { surface } = pass.sections;
    const bumps = [...surface.bumps]
      .sort((a, b) => (b.pictureShiftPx ?? 0) - (a.pictureShiftPx ?? 0))
      .slice(0, count);
    return { ...pass, sections: { ...pass.sections, surface: { ...surface, bumps } } };
  }

  function placesIn(pass: MeasuredPass, text: string): number[] {
    return [...pass.sections.surface.bumps.entries()]
      .filter(([, { atM }]) => text.includes(`${atM.toFixed(3)} m`))
      .map(([place]) => place);
  }
});

describe('sources that were named', () => {
  it('are each to be stopped by a remedy of their own, when that helps', () => {
    const humming = withSources(
      rolledPass({
        seed: 1,
        focalFactor: 3,
        delivery: { maxCropPercent: 0.5 },
        line: { rmsMdeg: 30, freqHz: 5 },
      }),
      [
        { cause: 'machine', freqHz: 5, tiltDegRms: 0.03 },
        { cause: 'wheel', freqHz: 1.6, tiltDegRms: 1e-6 },
      ],
    );
    const steps = offered(sourceSteps(presentOf(humming)));
    expect(settings(steps)).toEqual(['isolate-machine']);
    expect(steps[0].text).toContain('5 Hz');
    expect(steps[0].predicted.cropPercent.value).toBeLessThan(0.5);
    expect(offered(sourceSteps(presentOf(rough)))).toEqual([]);
  });
});

describe('wheels and floors', () => {
  it('offers one change of wheels at most, the best', () => {
    const steps = offered(wheelSteps(presentOf(rough)));
    expect(steps.length).toBeLessThanOrEqual(1);
  });

  it('asks for the class of boards that keeps the limits as a whole', () => {
    const present = presentOf(rough);
    const [step] = offered(boardSteps(present));
    const name = /of class (\S+) or smoother/.exec(step.text)?.[1];
    const psdM3 = [1e-9, 1e-8, 1e-7, 1e-6].map((m3) => surfaceClass(m3)).find((one) => one.name === name);
    expect(step.predicted.grade).toBe('pass');
    const laid = applyChanges(rough, [{ what: 'smoothSurface', psdM3: psdM3?.upperM3 ?? 1e-6 }]);
    if (isRefused(laid)) throw new Error(laid.refused);
    expect(worstOf(outcomeOf(rough, laid), present, 'high')).toBeLessThanOrEqual(1);
  });

  it('offers a surface with a run of its own by what was foretold of it', () => {
    const { surface } = rough.sections;
    const rail = (ratio: number): MeasuredPass => ({
      ...rough,
      sections: {
        ...rough.sections,
        surface: {
          ...surface,
          predictions: [
            {
              change: 'surface',
              label: 'aluminium rail',
              pitchMdegRms: null,
              rollMdegRms: null,
              shakePxRms: null,
              ratio: { value: ratio, low: 0.9 * ratio, high: 1.1 * ratio },
              largestKickPx: null,
              assumes: '',
              reason: null,
            },
          ],
        },
      },
    });
    const [step] = laidSurfaceSteps(presentOf(rail(0.4)));
    expect(step.text).toBe('Roll on "aluminium rail" instead.');
    expect(step.predicted.cropPercent.value / presentOf(rough).now.cropPercent.value).toBeCloseTo(0.4, 1);
    expect(laidSurfaceSteps(presentOf(rail(1.2)))).toEqual([]);
  });
});

describe('the advice of tests above', () => {
  it('is about passes that fail', () => {
    expect([onRough.grade, onTiled.grade]).toEqual(['fail', 'fail']);
    expect(onRough.advice[0].code).toBe('boards-or-rail');
  });
});
