import { describe, expect, it } from 'vitest';
import { renderHtml, terminalSummary } from '../../src/report/index.js';
import type { RunDocument } from '../../src/run/index.js';
import { madeUpBundle } from './support/made-up-bundle.js';
import { madeUpRun, type Change } from './support/made-up-run.js';

/** What stands on the page, tags and styles left out, white space joined. */
const page = (change?: Change): string =>
  renderHtml(madeUpBundle(change), null)
    .replace(/<style>[\s\S]*?<\/style>/g, '')
    .replace(/<[^>]+>/g, ' ')
    .replace(/\s+/g, ' ');
const summary = (change?: Change): string => terminalSummary(madeUpRun(change), { colour: false });

const mode =
  (name: RunDocument['stabilise']['mode']): Change =>
  (run) => {
    run.stabilise.mode = name;
    if (name !== 'keepMove') run.stabilise.smoothingS = null;
  };

describe('what stabilising costs, on the page', () => {
  it('gives the crop in per cent and px, with its limit, and the pixels that are left', () => {
    expect(page()).toContain('3.1 % of the frame width, 60.4 px of 1920 (limit 5 %)');
    expect(page()).toContain('3719 x 2091 px');
    expect(page()).toContain('enough for the delivery');
    expect(page((run) => (run.stabilise.recommended.pixels.holds = false))).toContain('scaled up');
  });

  it('says how to frame: per cent, px and lens, for a repeat first and for this take after it', () => {
    const { forRepeat } = madeUpRun().stabilise.recommended;
    expect(forRepeat?.focalLengthMm).toBeLessThan(35);
    expect(page()).toMatch(
      /Frame wider by 4\.\d % \(8\d\.\d px\), with a lens of 33\.\d mm or shorter: room for a repeat/,
    );
    expect(page()).toContain('This very take would have done with 3.4 %');
    expect(page((run) => (run.stabilise.recommended.forRepeat = null))).toContain('no wider lens helps');
  });

  it('shows all ways side by side and marks the one of the report', () => {
    expect(page()).toContain('Keep the move (this report)');
    expect(page()).toMatch(/Hold still not possible – more than half of the picture/);
    expect(page(mode('smoothest'))).toContain('Smoothest within the crop allowed (this report)');
  });

  it('draws the trade-off without a chosen point where the way has no smoothing', () => {
    const marks = (text: string): number => text.split('class="chosen"').length - 1;
    expect(marks(renderHtml(madeUpBundle(), null))).toBe(2);
    expect(marks(renderHtml(madeUpBundle(mode('holdStill')), null))).toBe(0);
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

  it('gives other lenses and speeds, and says why a speed has no figure', () => {
    expect(page()).toMatch(/50 mm 4\.4 % 0\.57 px/);
    expect(page()).toContain('A dash: the pass holds nothing at frequencies that high.');
    expect(page()).toContain('Liu, Yuan, Tan and Sun 2013');
  });
});

describe('what stays, on the page', () => {
  it('names every cause with px and minutes of arc, and the viewing distance these hold for', () => {
    expect(page()).toMatch(/Translation 0\.39 px 0\.8 px 0\.4′/);
    expect(page()).toMatch(/Path &lt; 0\.01 px/);
    expect(page()).toMatch(/Rolling shutter not known/);
    expect(page()).toContain('Seen from 3.1 picture heights');
    expect(page()).toContain('(design viewing distance of ITU-R BT.2022)');
    expect(page((run) => (run.delivery.viewingDistanceHeights = 5))).not.toContain('BT.2022');
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
