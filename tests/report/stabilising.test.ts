import { describe, expect, it } from 'vitest';
import { outcomeOfFigures } from '../../src/judge/index.js';
import {
  cropCurve,
  leftBar,
  surelyWithin,
  withinLimits,
  type CropCurveData,
} from '../../src/report/charts/index.js';
import { cropOnSet } from '../../src/report/crop-on-set.js';
import { costSection } from '../../src/report/html/cost.js';
import { leftOverSection } from '../../src/report/html/left-over.js';
import { whatIfSection } from '../../src/report/html/what-if.js';
import { terminalSummary } from '../../src/report/index.js';
import { rangesAlong, smoothingToSet } from '../../src/report/smoothing-to-set.js';
import { speedCases } from '../../src/report/what-if/run-cases.js';
import type { RunDocument } from '../../src/run/index.js';
import { expectWithin } from '../support/expect-within.js';
import { madeUpRun, type Change } from './support/made-up-run.js';

/** The sections of the page on stabilising. */
const sections = (change?: Change): string => {
  const bundle = { run: madeUpRun(change) };
  return [costSection(bundle), leftOverSection(bundle), whatIfSection(bundle)]
    .map(({ text }) => text)
    .join('');
};

/** What stands in them, tags and the data of charts left out, white space joined. */
const read = (change?: Change): string =>
  sections(change)
    .replace(/<script\b[\s\S]*?<\/script>/g, '')
    .replace(/<[^>]+>/g, ' ')
    // The narrow space before the unit of a lens stays.
    .replace(/[^\S\u202f]+/g, ' ');
let unchanged: string | undefined;
const page = (change?: Change): string => (change ? read(change) : (unchanged ??= read()));
const summary = (change?: Change): string => terminalSummary(madeUpRun(change), { colour: false });

const mode =
  (name: RunDocument['stabilise']['mode']): Change =>
  (run) => {
    run.stabilise.mode = name;
    if (name !== 'keepMove') run.stabilise.smoothingS = null;
  };

describe('what stabilising costs, on the page', () => {
  it('says first what the crop costs: per cent beside its limit, px that are left, the lens that frames like it', () => {
    const percent = madeUpRun().stabilise.cropPercent;
    expect(percent).toBeGreaterThan(3.1);
    expect(page()).toContain(
      'The crop costs 3.1 % of the width (limit 5 %): of 1920 px 1860 are left, framed as by a 36.1 mm lens in place of the 35 mm lens.',
    );
    expect(page((run) => (run.rig.focalLengthMm = undefined))).toContain(
      'framed as by a lens 1.032 times as long.',
    );
    expect(page((run) => (run.stabilise.coverable = false))).toContain('this pass is not for stabilising');
    expect(page()).toContain('3719 x 2091 px of 3840 x 2160; enough for the delivery');
    expect(page((run) => (run.stabilise.recommended.pixels.holds = false))).toContain('scaled up');
  });

  it('has per cent, px and lens say the same', () => {
    // 6 % of 4096 columns.
    expect(cropOnSet(6, 4096, 50)).toMatchObject({ leftPx: 3850 });
    for (const percent of [0.5, 6, 33, 50]) {
      const { leftPx, tighter, focalLengthMm } = cropOnSet(percent, 4096, 50);
      expectWithin(4096 * (1 - percent / 100), leftPx, { abs: 0.5, why: 'whole columns' });
      expectWithin(50 / focalLengthMm!, leftPx / 4096, { abs: 0.5 / 4096, why: 'whole columns' });
      expectWithin(tighter * (1 - percent / 100), 1, { abs: 1e-12, why: 'rounding of doubles' });
    }
    expect(cropOnSet(6, 4096).focalLengthMm).toBeNull();
  });

  it('says how to frame on the day for a repeat, and folds away what this very take needed', () => {
    const { forRepeat } = madeUpRun().stabilise.recommended;
    expect(forRepeat?.focalLengthMm).toBeLessThan(35);
    expect(page()).toMatch(
      /On the day, frame wider by 4\.\d % \(8\d\.\d px of 1920\), with a lens of 33\.\d mm or shorter: room for the crop and for a repeat/,
    );
    const folded = sections().split('More figures of the crop')[1].split('</details>')[0];
    expect(folded.replace(/<[^>]+>/g, ' ').replace(/\u00a0/g, ' ')).toContain('3.4 %, of it');
    expect(page((run) => (run.stabilise.recommended.forRepeat = null))).toContain('no wider lens helps');
  });

  it('says which smoothing keeps the limits, or which of them stands in the way', () => {
    const curve: Change = (run) => {
      run.stabilise.curve = [
        { smoothingS: 1, cropPercent: 1, residualPx: 1 },
        { smoothingS: 2, cropPercent: 3, residualPx: 0.5 },
      ];
      Object.assign(run.delivery, { maxCropPercent: 2, maxResidualPx: 0.9 });
    };
    expect(page(curve)).toContain(
      'Smoothing from 1.2 to 1.5 s keeps this take within both limits; with its range and a repeat of the move counted in, none is sure to; this report uses 1.25 s.',
    );
    const limits =
      (maxCropPercent: number, maxResidualPx: number): Change =>
      (run) => {
        curve(run);
        Object.assign(run.delivery, { maxCropPercent, maxResidualPx });
      };
    expect(page(limits(3, 1))).toContain('Any smoothing from 1 to 2 s');
    expect(page(limits(0.5, 1))).toContain('Every smoothing costs more crop than is accepted.');
    expect(page(limits(3, 0.4))).toContain('No smoothing leaves little enough shake');
    expect(page(limits(1.2, 0.55))).toContain('No smoothing keeps both limits');
  });

  describe('the smoothing to set', () => {
    const setting =
      (maxCropPercent: number, maxResidualPx: number, smoothingS: number): Change =>
      (run) => {
        run.stabilise.curve = [
          { smoothingS: 0.5, cropPercent: 1, residualPx: 2 },
          { smoothingS: 1, cropPercent: 2, residualPx: 0.5 },
          { smoothingS: 2, cropPercent: 4, residualPx: 0.4 },
        ];
        Object.assign(run.stabilise, { smoothingS: 2, cropPercent: 4 });
        Object.assign(run.stabilise.recommended, { smoothingS, reservePercent: 0.2, why: 'As good.' });
        Object.assign(run.delivery, { maxCropPercent, maxResidualPx });
      };
    const set = (change: Change): ReturnType<typeof smoothingToSet> => smoothingToSet(madeUpRun(change));

    it('is one that keeps the limits with its whole range, where one does and that of the report does not', () => {
      const change = setting(4.1, 5, 1);
      expect(rangesAlong(madeUpRun(change)).cropFactors?.[1]).toBeGreaterThan(1.05);
      expect(set(change)).toEqual({ kind: 'sure', smoothingS: 1 });
      expect(page(change)).toContain('Smoothing to set 1 s. It keeps the limits for sure');
    });

    it('is left as it is, and not told, where that keeps them', () => {
      expect(set(setting(20, 5, 2))).toEqual({ kind: 'keep' });
      expect(page(setting(20, 5, 2))).not.toContain('Smoothing to set');
      expect(set(setting(20, 5, 1))).toEqual({ kind: 'asGood', smoothingS: 1 });
    });

    it('is one that the reserve fits, with the figures, where none is sure', () => {
      const change = setting(2.1, 0.52, 1);
      expect(set(change)).toEqual({ kind: 'reserve', smoothingS: 1 });
      expect(page(change)).toContain('with it 2 s need 4.2 % of crop, and 2.1 % is accepted');
    });

    it('is none where none keeps the limits, with the nearest', () => {
      const change = setting(1.2, 0.45, 0.5);
      expect(set(change)).toMatchObject({ kind: 'none', nearest: { smoothingS: 1 } });
      expect(page(change)).toContain(
        'Smoothing to set none up to that of this report keeps the limits; 1 s comes nearest (crop 2 %, 0.5 px of shake left)',
      );
    });
  });

  it('shows all ways side by side and marks the one of the report', () => {
    expect(page()).toContain('Keep the move (this report)');
    expect(page()).toMatch(/Hold still not possible – more than half of the picture/);
    expect(page(mode('smoothest'))).toContain('Smoothest within the crop allowed (this report)');
  });

  it('draws the trade-off without a chosen point where the way has no smoothing', () => {
    const marks = (change?: Change): number =>
      sections(change).split('id="cost"')[1].split('</section>')[0].split('class="chosen"').length - 1;
    // On both curves, drawn for a desk and for a phone.
    expect(marks()).toBe(4);
    expect(marks(mode('holdStill'))).toBe(0);
  });

  it('foretells takes, says why there is no bound, and for which way they hold', () => {
    expect(page()).toContain('a 60 s take about 3.8 %, 19 in 20 below 5.9 %');
    const refused = page((run) => {
      Object.assign(run.stabilise.longerTake[1], {
        upper95Percent: null,
        refused: { code: 'farReach', why: 'the take is more than 12 times as long as the test' },
      });
    });
    expect(refused).toContain(
      'A dash: no bound, because the take is more than 12 times as long as the test.',
    );
    expect(page(mode('smoothest'))).toContain(
      'No take is foretold for this way; what follows holds where the move is kept. The test needed',
    );
  });

  it('tells a hit from the joints and bumps of the floor', () => {
    expect(page()).toContain('A hit is a kick of a fraction of a second');
    expect(page()).toContain('counts joints and bumps by their height instead');
  });
});

describe('another lens, another speed, on the page', () => {
  it('stands open: lenses with their range and grade, speeds, and words where a speed has no figure', () => {
    expect(page()).toMatch(
      /50\u202fmm 4\.4 % [\d.]+ to [\d.]+ 0\.57 px [\d.]+ to [\d.]+ (Pass|Marginal|Fail)/,
    );
    expect(page()).toContain('Too slow: the pass holds nothing at frequencies that high.');
    expect(page()).toContain('trundle whatif &lt;folder of this report&gt; --focal 50mm');
    const [before] = sections().split('The same stretch at another speed');
    const open = before.split('<details').length - before.split('</details>').length;
    expect(open).toBe(0);
  });

  it('names the longest lens within the limits, what ends it, and the longest that passes', () => {
    expect(page()).toMatch(/Lenses up to [\d.]+ mm may keep this take within the limits; a longer one/);
    expect(page((run) => (run.stabilise.recommended.longestLens = null))).toContain(
      'No lens keeps the limits',
    );
    expect(page((run) => (run.delivery.maxCropPercent = 0.1))).toContain(
      'None of the lenses below passes with room for a repeat of the move.',
    );
  });

  it('grades the lens of the pass as the verdict does', () => {
    for (const maxCropPercent of [5, 3.5, 2]) {
      const run = madeUpRun((changed) => (changed.delivery.maxCropPercent = maxCropPercent));
      const { stabilise, motion, delivery } = run;
      const { grade } = outcomeOfFigures(motion, stabilise, delivery, {
        ...stabilise,
        residualPx: stabilise.residual.rmsPx,
      });
      expect(grade).toBe({ 5: 'pass', 3.5: 'marginal', 2: 'fail' }[maxCropPercent]);
    }
  });

  it('calls a speed marginal where floor and machine would be graded apart', () => {
    const run = madeUpRun((changed) => {
      const { speed } = changed.stabilise.whatIf;
      Object.assign(speed[0], {
        factor: 2,
        refused: null,
        allFloor: { cropPercent: 20, coverable: true, residualPx: 0.4 },
        allMachine: { cropPercent: 1, coverable: true, residualPx: 0.4 },
      });
    });
    const [first] = speedCases(run);
    expect(first).toMatchObject({ grade: 'marginal', crop: { text: '1 to 20 %' } });
  });
});

describe('the chart of the trade-off', () => {
  const data: CropCurveData = {
    label: 'Trade-off',
    points: [
      { smoothingS: 1, cropPercent: 1, residualPx: 1 },
      { smoothingS: 2, cropPercent: 3, residualPx: 0.5 },
    ],
    maxCropPercent: 2,
    maxResidualPx: 0.9,
    chosen: { smoothingS: 1.5, cropPercent: 2, residualPx: 0.75 },
    cropFactors: [0.9, 1.5],
    leftFactors: null,
  };

  it('shades and names the smoothing that keeps both limits, over both curves', () => {
    expect(withinLimits(data.points, data)).toEqual([[1.2, 1.5]]);
    const { svg } = cropCurve.draw(data, { widthPx: 360 });
    expect(svg.match(/class="within"/g)).toHaveLength(2);
    expect(svg).toContain('>within the limits, not for sure<');
    expect(svg).not.toContain('class="within-sure"');
    const none = cropCurve.draw({ ...data, maxCropPercent: 0.5 }, { widthPx: 360 }).svg;
    expect(none).not.toContain('class="within"');
    expect(none).toContain('>at no smoothing are both limits kept<');
  });

  it('shades apart, and names, what keeps the limits with the whole range', () => {
    const roomy = { ...data, maxCropPercent: 2.4, cropFactors: [0.9, 1.5] as const };
    // Crop 1.5 s reaches 2.4 % at 1.3 s, and 2.4 % by itself at 1.7 s.
    const [[from, to]] = surelyWithin(roomy.points, roomy, roomy);
    expectWithin(from, 1.2, { abs: 1e-12, why: 'rounding of doubles' });
    expectWithin(to, 1.3, { abs: 1e-12, why: 'rounding of doubles' });
    const { svg } = cropCurve.draw(roomy, { widthPx: 460 });
    expect(svg.match(/class="within-sure"/g)).toHaveLength(2);
    expect(svg).toContain('>within the limits for sure<');
    expect(svg).toContain('>within the limits, not for sure<');
    const all = cropCurve.draw({ ...roomy, cropFactors: null }, { widthPx: 460 }).svg;
    expect(all).not.toContain('not for sure');
  });

  it('keeps the names of both off each other where there is little room', () => {
    const narrow = {
      ...data,
      points: [
        { smoothingS: 0.25, cropPercent: 0.55, residualPx: 1.05 },
        { smoothingS: 0.5, cropPercent: 0.74, residualPx: 0.86 },
        { smoothingS: 0.7, cropPercent: 0.76, residualPx: 0.66 },
        { smoothingS: 2, cropPercent: 0.96, residualPx: 0.52 },
      ],
      maxCropPercent: 5,
      maxResidualPx: 0.83,
      chosen: { smoothingS: 1.25, cropPercent: 0.86, residualPx: 0.52 },
      leftFactors: [0.92, 1.1] as const,
    };
    const { svg } = cropCurve.draw(narrow, { widthPx: 360 });
    const lines = ['for sure', 'not for sure'].map((end) =>
      Number(new RegExp(`y="([\\d.]+)"[^>]*>within the limits,? ${end}<`).exec(svg)?.[1]),
    );
    // Both are wider than half of the plot, so that they can only stand above each other; letters are 11 px high.
    expect(Math.abs(lines[0] - lines[1])).toBeGreaterThan(11);
  });

  it('holds the crop alone against its limit where nothing is known of the shake left', () => {
    const points = data.points.map((point) => ({ ...point, residualPx: null }));
    expect(withinLimits(points, data)).toEqual([[1, 1.5]]);
    expect(cropCurve.draw({ ...data, points, chosen: null }, { widthPx: 360 }).svg).toContain(
      '>within the crop limit, not for sure<',
    );
    const gap = [data.points[0], points[1]];
    expect(withinLimits(gap, data)).toEqual([]);
  });

  it('joins neighbouring stretches and keeps separate ones apart', () => {
    const point = (smoothingS: number, cropPercent: number) => ({ smoothingS, cropPercent, residualPx: 0.1 });
    const hump = [point(0, 1), point(1, 1), point(2, 3), point(3, 1)];
    expect(withinLimits(hump, data)).toEqual([
      [0, 1.5],
      [2.5, 3],
    ]);
  });

  it('writes both limits at their lines and bands where a range is known', () => {
    const { svg } = cropCurve.draw(data, { widthPx: 560 });
    expect(svg).toContain('limit 2 %');
    expect(svg).toContain('limit 0.9 px');
    expect(svg.match(/class="open-band"/g)).toHaveLength(1);
    expect(svg).toContain('2 % at 1.5 s');
    expect(svg).not.toMatch(/NaN|undefined|Infinity/);
  });

  it('tells the nearest smoothing: crop with its range, and shake left', () => {
    const { read, stops, domain } = cropCurve.draw(data, { widthPx: 360 });
    expect(stops).toEqual([1, 2]);
    expect(domain[0]).toBe(0);
    expect(read(1.9)).toMatchObject({ at: 2, place: '2 s of smoothing' });
    expect(read(1.9)?.values.map(({ text }) => text)).toEqual(['Crop 3 % (2.7 to 4.5)', 'Shake left 0.5 px']);
  });
});

describe('what stays, on the page', () => {
  it('names every cause with px and minutes of arc, and the viewing distance these hold for', () => {
    expect(page()).toMatch(/Translation [^<]*removes it 0\.39 px 0\.8 px 0\.4′/);
    expect(page()).toMatch(/Path angular shake[a-z ]* &lt; 0\.01 px/);
    expect(page()).toMatch(/Rolling shutter bend [^<]*time not known/);
    expect(page()).toContain('seen from 3.1 picture heights');
    expect(page()).toContain('(design viewing distance of ITU-R BT.2022)');
    expect(page((run) => (run.delivery.viewingDistanceHeights = 5))).not.toContain(
      '(design viewing distance',
    );
  });

  it('names the largest cause and what would leave less of it', () => {
    expect(page()).toContain('Most of it is translation');
    const path = page(({ stabilise: { residual } }) => {
      Object.assign(residual.causes.path, { rmsPx: 2 });
      residual.rmsPx = 2.1;
    });
    expect(path).toContain('More smoothing leaves less and costs more crop.');
    expect(path).not.toContain('Most of it is translation');
  });

  it('draws each cause on one scale, with the limit where it decides', () => {
    const scale = { mostPx: 1, limitPx: 0.8 };
    const width = (svg: string): number => Number(/ width="([\d.]+)"/.exec(svg)?.[1]);
    const half = leftBar(0.5, 'angular', scale);
    expectWithin(width(leftBar(1, 'angular', scale)), 2 * width(half), { abs: 0.01, why: 'two decimals' });
    expect(Number(/class="limit" x1="([\d.]+)"/.exec(half)?.[1])).toBe(1.6 * width(half));
    expect(leftBar(null, 'angular', scale)).not.toContain('left-bar ');
    expect(leftBar(0.5, 'translational', scale)).toContain('left-hatch');
  });

  it('says at most where only a bound stands, and not known where none does', () => {
    expect(page((run) => (run.stabilise.residual.atMost = true))).toContain('At most 0.4 px RMS of shake');
    const none = page((run) => {
      const { residual } = run.stabilise;
      Object.assign(residual, { rmsPx: null, total: null, parallaxPx: null });
      Object.assign(residual.causes, { translation: null, parallax: null });
    });
    expect(none).toContain('this clip cannot tell translation from rotation');
    expect(none).not.toContain('null');
  });

  it('names the shutter that tames pulsing blur only where it pulses', () => {
    expect(page()).toContain('too little to be seen as pulsing sharpness');
    expect(page((run) => (run.stabilise.recommended.shutterAngleDeg = 90))).toContain(
      'a shutter of 90° or less would keep it too small to be seen',
    );
    expect(page((run) => (run.stabilise.recommended.shutterAngleDeg = 1))).toContain(
      'no shutter is short enough',
    );
  });
});

describe('stabilising in the terminal', () => {
  it('tells crop, way, take and what stays in three lines', () => {
    expect(summary()).toContain('Crop: 3.1 % of the width, 60.4 px of 1920; the move is kept');
    expect(summary()).toContain('19 in 20 below 5.9 %');
    expect(summary()).toContain(
      'Stays: 0.4 px RMS at delivery size (translation 0.39, of it parallax 0.36).',
    );
    expect(summary(mode('holdStill'))).toContain('the picture is held still');
    expect(summary((run) => (run.stabilise.coverable = false))).toContain(
      'Crop: more than half of the picture',
    );
  });
});
