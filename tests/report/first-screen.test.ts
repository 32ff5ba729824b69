import { describe, expect, it } from 'vitest';
import { cornerInset, cropPicture, deliveryWindow } from '../../src/report/charts/index.js';
import { cropSteps, sliderSmoothings } from '../../src/report/crop-steps.js';
import { cropWindows } from '../../src/report/crop-windows.js';
import { cropSlider } from '../../src/report/html/crop-slider.js';
import { firstScreen } from '../../src/report/html/first-screen.js';
import type { ReportBundle } from '../../src/report/index.js';
import type { VerdictSection } from '../../src/run/index.js';
import { headline } from '../../src/report/wording.js';
import { expectWithin } from '../support/expect-within.js';
import { madeUpBundle } from './support/made-up-bundle.js';
import type { Change } from './support/made-up-run.js';
import { setCrop } from './support/made-up-stabilise.js';

const OUTCOME = {
  cropPercent: { value: 1.9, low: 1.6, high: 2.4 },
  coverable: true,
  residualPx: { value: 0.7, low: 0.5, high: 0.8 },
  grade: 'pass',
} as const;
const SIZE = { widthPx: 960, heightPx: 540 };

/** What stands there, tags left out, white space joined. */
function words(text: string): string {
  return text
    .replace(/<script[\s\S]*?<\/script>/g, '')
    .replace(/<[^>]+>/g, ' ')
    .replace(/[\s\u00a0]+/g, ' ');
}

const screen = (bundle: ReportBundle): string => firstScreen(bundle, null).text;
const shown = (change?: Change): string => words(screen(madeUpBundle(change)));

describe('the first screen', () => {
  it('tells the first step with what it comes to, and folds the effect away', () => {
    const bundle = madeUpBundle();
    const step = { code: 'x', text: 'Shim.', effect: 'Crop falls. Taken for granted: it holds.' };
    bundle.run.verdict = {
      ...bundle.run.verdict,
      grade: 'fail',
      advice: [
        { ...step, predicted: OUTCOME },
        { ...step, predicted: OUTCOME },
        { ...step, predicted: null },
        { ...step, text: 'T'.repeat(200), predicted: null },
      ],
    };
    const text = screen(bundle);
    const summaries = [...text.matchAll(/<summary>([\s\S]*?)<\/summary>/g)].map(([, summary]) =>
      words(summary).trim(),
    );
    expect(summaries).toEqual([
      'Shim. Then crop 1.9 %, 0.7 px left: passes.',
      'Or: Shim. (crop 1.9 %, 0.7 px left: passes)',
      'Also: Shim. Crop falls.',
      `Also: ${'T'.repeat(200)}`,
    ]);
    expect(text.match(/<details class="paper-open step">/g)).toHaveLength(4);
    expect(words(text)).toContain('Taken for granted: it holds. Also:');
  });

  it('leaves nothing to unfold where the line has said it all', () => {
    const bundle = madeUpBundle();
    bundle.run.verdict.advice = [{ code: 'x', text: 'Shim.', effect: 'It helps.', predicted: null }];
    expect(screen(bundle)).not.toContain('<details');
    expect(words(screen(bundle))).toContain('Do first Shim. It helps.');
  });

  it('minds a longer take that may go over the limit', () => {
    expect(
      shown((run) => {
        for (const take of run.stabilise.longerTake) take.upper95Percent = 9;
      }),
    ).toMatch(/Mind: A 60 s take on a floor like this may need/);
  });

  it('says what a step that passes passes for, where a longer take is minded', () => {
    const bundle = madeUpBundle((run) => {
      for (const take of run.stabilise.longerTake) take.upper95Percent = 9;
    });
    bundle.run.verdict.advice = [{ code: 'x', text: 'Shim.', effect: 'It helps.', predicted: OUTCOME }];
    const note = 'Passes: for a take like the test; a longer one may need more crop.';
    expect(words(screen(bundle))).toContain(note);
    bundle.run.verdict.reasons = bundle.run.verdict.reasons.filter(({ limit }) => limit !== null);
    expect(words(screen(bundle))).not.toContain(note);
  });

  it('gives the crop its range, as the other figures have theirs', () => {
    expect(shown()).toMatch(/Crop 3\.1 % 3\.1 to 4\.3 % of the width, limit 5 %/);
  });

  it.each([
    ['noTravel', 'the camera did not travel in this clip'],
    ['flatScene', 'everything in the picture lies at nearly one distance'],
  ] as const)(
    'says that a verdict does not cover translation that the clip cannot show: %s',
    (cause, why) => {
      const blind = shown((run) => {
        run.motion.translational.observable = 'no';
        run.motion.separation.unsplit = {
          cause,
          ifAllAngular: { panDeg: 0.02, tiltDeg: 0.03 },
          ifAllTranslation: { lateral: null, vertical: null },
          change: [],
        };
      });
      expect(blind).toContain(
        `Not covered: translation (shake that shifts the camera sideways, up or along): ${why}.`,
      );
      expect(shown()).not.toContain('Not covered');
      expect(shown((run) => (run.tracking.coverage = 0.01))).not.toContain('Not covered');
    },
  );
});

describe('the frame of the clip', () => {
  const frame = { atS: 7.3, pointsX: [0.25, 0.5, 0.75], pointsY: [0.5, 0.5, 0.5], kept: [1, 0, 1] };
  const bundle = madeUpBundle();
  const withPoints = { ...bundle, series: { ...bundle.series, frame } };

  it('tells kept points from others by their shape and counts both', () => {
    const text = screen(withPoints);
    expect(words(text)).toContain('Points followed: 2 kept (dots), 1 left out (crosses)');
    const drawn = (name: string): string => new RegExp(`class="${name}" d="([^"]*)"`).exec(text)?.[1] ?? '';
    // A stroke without length is a dot, 960 x 540 px; a cross has two strokes.
    expect(drawn('point-dot')).toBe('M240 270h0M720 270h0');
    expect(drawn('point-cross').match(/M/g)).toHaveLength(2);
  });

  it('has a box for each layer, points left out at first', () => {
    const boxes = [...screen(withPoints).matchAll(/<input type="checkbox" name="([^"]+)"\s*(checked)?/g)].map(
      ([, name, checked]) => [name, checked],
    );
    expect(boxes).toEqual([
      ['layer-others', 'checked'],
      ['layer-safe', 'checked'],
      ['layer-points', undefined],
    ]);
    for (const [name] of boxes) expect(screen(withPoints)).toContain(`<g class="${name}"`);
  });

  it('stands without points where the run is older than they', () => {
    expect(screen(bundle)).not.toContain('layer-points');
  });

  it('draws the safe areas as 93 and 90 % of the delivered picture, about its middle', () => {
    const { window, safe } = cropWindows(bundle);
    const width = (outline: Float64Array): number =>
      Math.hypot(outline[16] - outline[0], outline[17] - outline[1]);
    // SMPTE ST 2046-1:2009, from memory. Perspective of a turn of thousandths of a radian changes widths by about as much.
    expectWithin(width(safe![0]) / width(window!), 0.93, { abs: 1e-4 });
    expectWithin(width(safe![1]) / width(window!), 0.9, { abs: 1e-4 });
    expect(deliveryWindow(bundle.stabilisation, 3, 1)).toEqual(deliveryWindow(bundle.stabilisation, 3));
  });

  it('shows a narrow loss in an enlarged corner, with its px; a wide one without', () => {
    // 1 % of the width off at the left and the top; one point a side.
    const window = [0.01, 0.01, 1, 0.01, 1, 1, 0.01, 1];
    const crop = (cropPercent: number) => ({ cropPercent, deliveryWidthPx: 1920 });
    expect(cornerInset(window, 960, 540, crop(1))).toMatchObject({
      times: 6,
      lostPx: 19.2,
      atTop: true,
      part: { x: 0, y: 0 },
    });
    expect(cornerInset(window, 960, 540, crop(3))).toBeNull();
    expect(cornerInset(window, 960, 540, crop(0.01))).toBeNull();
    const drawn = cropPicture({
      label: 'Frame',
      ...SIZE,
      imageUri: 'data:,',
      window,
      others: [],
      crop: crop(1),
    });
    expect(words(drawn)).toContain('19.2 px lost');
    expect(drawn.match(/<image /g)).toHaveLength(1);
    expect(drawn).toContain('<use href="#frame-picture"/>');
    // "narrow" is a drawing for phones, which a desk hides.
    expect(drawn).not.toMatch(/class="[^"]*\bnarrow\b/);
  });

  it('leaves out what is not there', () => {
    const bare = cropPicture({ label: 'Frame', ...SIZE, imageUri: null, window: null, others: [] });
    expect(bare).not.toMatch(/layer-|class="window/);
  });
});

describe('the smoothing slider', () => {
  const bundle = madeUpBundle();
  const steps = cropSteps(bundle);

  it('offers the smoothings of the trade-off, and one in each wide gap', () => {
    expect(sliderSmoothings([0.5, 0.25, 0.6])).toEqual([0.25, 0.35, 0.5, 0.6]);
    expect(steps.map(({ smoothingS }) => smoothingS)).toEqual(
      sliderSmoothings(bundle.run.stabilise.curve.map(({ smoothingS }) => smoothingS)),
    );
  });

  it('has the figures and the window of the report at its own setting', () => {
    const own = steps.filter(({ chosen }) => chosen);
    expect(own).toHaveLength(1);
    expect(own[0].cropPercent).toBe(bundle.run.stabilise.cropPercent);
    expect(own[0].residualPx).toBe(bundle.run.stabilise.residual.rmsPx);
    expect(own[0].window).toEqual(cropWindows(bundle).window);
  });

  it('grows the window as less is cropped, and frames like a longer lens as more is', () => {
    const others = steps.filter(({ chosen }) => !chosen);
    const byCrop = [...others].sort((a, b) => a.cropPercent - b.cropPercent);
    const [least, most] = [byCrop[0], byCrop[byCrop.length - 1]];
    const width = ({ window }: { window: Float64Array }): number => window[16] - window[0];
    expect(most.cropPercent).toBeGreaterThan(least.cropPercent);
    expect(width(most)).toBeLessThan(width(least));
    expect(most.lensMm).toBeGreaterThan(least.lensMm!);
    // Every window covers the frame in the frame that decides: within the border, and close to it. 1e-6 is rounding.
    for (const { deciding } of others) {
      expect(Math.min(...deciding)).toBeGreaterThan(-1e-6);
      expect(Math.max(...deciding)).toBeLessThan(1 + 1e-6);
    }
  });

  it('says which limit a setting goes over', () => {
    const over = madeUpBundle((run) => setCrop(run.stabilise, 20));
    expect(cropSteps(over).find(({ chosen }) => chosen)).toMatchObject({ grade: 'fail', hit: 'crop' });
    const text = cropSlider(
      madeUpBundle((run) => setCrop(run.stabilise, 20)),
      SIZE,
    )!.text;
    expect(text).toMatch(
      /aria-valuetext="1\.25\u00a0s of smoothing: crop 20\u00a0%, [\d.]+\u00a0px left, over the crop limit"/,
    );
  });

  it('is not there where the move is not kept, or nothing can be traded', () => {
    expect(
      cropSlider(
        madeUpBundle((run) => Object.assign(run.stabilise, { mode: 'holdStill', smoothingS: null })),
        SIZE,
      ),
    ).toBeNull();
    expect(
      cropSlider(
        madeUpBundle((run) => (run.stabilise.curve = [])),
        SIZE,
      ),
    ).toBeNull();
  });

  it('holds its data in a form that cannot end its element, and waits for the script', () => {
    const { text } = cropSlider(bundle, SIZE)!;
    expect(text).toMatch(/^<div class="crop-slider" hidden/);
    const data = JSON.parse(/crop-slider-data">([^<]*)</.exec(text)![1]) as {
      steps: unknown[];
      chosen: number;
    };
    expect(data.steps).toHaveLength(steps.length);
    expect(steps[data.chosen].chosen).toBe(true);
  });
});

describe('the verdict in one line', () => {
  const { run } = madeUpBundle();
  const line = (value: number, limit: number): string => {
    const reason = { code: 'residual-over-limit', text: '', value, limit, ci95: null, unit: 'px RMS' };
    const verdict: VerdictSection = {
      ...run.verdict,
      grade: 'fail',
      reasons: [{ ...reason, margin: limit - value }],
    };
    return headline({ ...run, verdict }).sentence;
  };

  it.each([
    ['crop-near-limit', '%', 0.85, [0.84, 1.147], 1, '(limit 1 %, but a repeat may need up to 1.2 %)'],
    ['crop-at-limit', '%', 1.04, [0.96, 1.2], 1, '(limit 1 %, but it may be as low as 0.96 %)'],
    ['residual-at-limit', 'px RMS', 0.79, [0.7, 0.9], 0.83, '(limit 0.83 px, but it may be up to 0.9 px)'],
    ['residual-over-limit', 'px RMS', 0.9, [0.85, 0.99], 0.83, '0.9 px of shake left (limit 0.83 px).'],
    ['crop-within-limit', '%', 0.85, [0.84, 0.95], 1, 'crop 0.85 % of the width (limit 1 %).'],
  ] as const)(
    'says where the range decides and not the value: %s',
    (code, unit, value, ci95, limit, expected) => {
      const reason = {
        code,
        text: '',
        value,
        limit,
        margin: limit - value,
        ci95: [...ci95] as [number, number],
        unit,
      };
      const verdict: VerdictSection = { ...run.verdict, grade: 'marginal', reasons: [reason] };
      const { sentence } = headline({ ...run, verdict });
      expect(sentence).toContain(expected);
      expect(sentence.match(/[.](?= |$)/g)).toHaveLength(1);
    },
  );

  it('names the lens beside its focal length', () => {
    expect(line(2, 1)).toContain('with a 35 mm lens at 0.25 m/s, for 1920x1080:');
  });

  it.each([
    [1.302, 1.3, '1.302 px of shake left (limit 1.3 px)'],
    [1.30004, 1.3, 'just over 1.3 px of shake left (limit 1.3 px)'],
    [0.829999, 0.83, 'just under 0.83 px of shake left (limit 0.83 px)'],
    [0.828, 0.83, '0.828 px of shake left (limit 0.83 px)'],
  ])('prints %d beside a limit of %d in digits that are read', (value, limit, expected) => {
    expect(line(value, limit)).toContain(expected);
  });
});
