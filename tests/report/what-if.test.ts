/** The chart, the page and the text of an answer: grades by shape and word, limits and marks where they belong, nothing unescaped. */
import { describe, expect, it } from 'vitest';
import { LONGER_TAKE_OVER_LIMIT, whatIf, type WhatIfWish } from '../../src/judge/index.js';
import { gradeMark, whatIfCrop, type WhatIfChartData } from '../../src/report/charts/index.js';
import { boxAround, labelBox, placeLabel } from '../../src/report/charts/place-label.js';
import { caseTables, comparedRows } from '../../src/report/what-if/words.js';
import { renderWhatIf, whatIfText } from '../../src/report/index.js';
import { WHAT_IF_SCHEMA, parseWhatIf, type WhatIfDocument } from '../../src/run/index.js';
import { whatIfTexts } from '../../src/texts/index.js';
import { expectWithin } from '../support/expect-within.js';
import { rolledPass } from '../judge/advice/support/rolled-pass.js';
import { filesOf } from '../judge/what-if/support/rolled-run.js';

const DATA: WhatIfChartData = {
  label: 'Crop over the focal length',
  xTitle: 'focal length, mm',
  points: [
    { x: 20, name: '20 mm lens', percent: 1, low: 0.8, high: 1.2, grade: 'pass' },
    { x: 40, name: '40 mm lens', percent: 2, low: 1.6, high: 2.4, grade: 'marginal' },
    { x: 80, name: '80 mm lens', percent: 4, low: 3.2, high: 4.8, grade: 'fail' },
  ],
  limitPercent: 2,
  marks: [
    { x: 40, percent: 1.8, name: 'as shot' },
    { x: 80, percent: 4, name: 'asked' },
  ],
};

/** As on a phone. */
const whatIfChart = (data: WhatIfChartData): string => whatIfCrop.draw(data, { widthPx: 360 }).svg;

/** A page as it is read: its script, and the data that this draws from, left out. */
const withoutScript = (html: string): string => html.replace(/<script[\s\S]*?<\/script>/g, '');

/** Half the last digit that a chart is written with, px. */
const WRITTEN = { abs: 0.01, why: 'two decimals of a pixel' };

function lineY(svg: string, cls: string): number {
  const found = new RegExp(`<line class="${cls}"[^>]* y1="([\\d.]+)"`).exec(svg);
  return Number(found?.[1]);
}

describe('the chart of crop over one thing', () => {
  const svg = whatIfChart(DATA);

  it('tells the grade of each case by its shape', () => {
    expect(svg.match(/<circle class="grade-fill"/g)).toHaveLength(1);
    expect(svg.match(/<path class="grade-fill"/g)).toHaveLength(1);
    expect(svg.match(/<path class="grade-line"/g)).toHaveLength(1);
    const shapes = (['pass', 'marginal', 'fail'] as const).map(gradeMark);
    expect(new Set(shapes.map((shape) => shape.replace(/class="[^"]*"/g, ''))).size).toBe(3);
  });

  it('draws the limit at its height, under the case that lies on it', () => {
    const triangle = /<path class="grade-fill" d="M[\d.]+ ([\d.]+)m/.exec(svg);
    expectWithin(Number(triangle?.[1]), lineY(svg, 'limit'), WRITTEN);
    expect(svg).toContain('limit 2 %');
  });

  it('names a limit far above at the edge, so that the curve is not flat', () => {
    const far = whatIfChart({ ...DATA, limitPercent: 40, marks: [] });
    expect(far).toContain('limit 40 % (above)');
    expect(far).not.toContain('class="limit"');
    const curve = /class="series angular" d="[^"]*,([\d.]+)"/.exec(far);
    // In the upper third of the plot, which goes from 28 to 212 px.
    expect(Number(curve?.[1])).toBeLessThan(28 + (212 - 28) / 3);
  });

  it('keeps names off the points', () => {
    const below = { x: 107, y: 111 };
    const crowd = [{ x: 130, y: 112 }].map((at) => boxAround(at, 5));
    const within = { left: 38, top: 28, right: 352, bottom: 212 };
    const free = placeLabel('as shot', { x: 97, y: 97 }, within, []);
    const moved = placeLabel('as shot', { x: 97, y: 97 }, within, crowd);
    expect({ x: free.x, y: free.y - 1 }).toEqual(below);
    const box = labelBox('as shot', moved);
    expect(
      crowd.every(
        ({ left, right, top, bottom }) =>
          box.right <= left || box.left >= right || box.bottom <= top || box.top >= bottom,
      ),
    ).toBe(true);
  });

  it('shades the range, and leaves the band away where nothing is open', () => {
    expect(svg).toContain('class="open-band"');
    const sure = DATA.points.map((point) => ({ ...point, low: point.percent, high: point.percent }));
    expect(whatIfChart({ ...DATA, points: sure })).not.toContain('class="open-band"');
  });

  it('names its marks', () => {
    expect(svg.match(/class="chosen"/g)).toHaveLength(2);
    expect(svg).toContain('>as shot<');
    expect(svg).toContain('>asked<');
  });

  it('cuts off what climbs far beyond the limit, with an arrow head, and stays in its box', () => {
    const steep = whatIfChart({
      ...DATA,
      marks: [],
      points: [
        ...DATA.points,
        { x: 160, name: '160 mm lens', percent: 45, low: 40, high: 49, grade: 'fail' },
      ],
    });
    expect(steep.match(/class="grade-line"/g)).toHaveLength(2);
    const ys = [...steep.matchAll(/ y[12]?="(-?[\d.]+)"/g)].map(([, y]) => Number(y));
    expect(Math.min(...ys)).toBeGreaterThanOrEqual(0);
    expect(Math.max(...ys)).toBeLessThanOrEqual(250);
  });

  it('tells the nearest case at a place: its name, its crop with the range, its grade', () => {
    const { read, stops } = whatIfCrop.draw(DATA, { widthPx: 560 });
    expect(stops).toEqual([20, 40, 80]);
    expect(read(45)).toMatchObject({ at: 40, place: '40 mm lens' });
    expect(read(45)?.values.map(({ text }) => text)).toEqual(['Crop 2 % (1.6 to 2.4): marginal']);
    expect(whatIfCrop.draw({ ...DATA, points: [], marks: [] }, { widthPx: 360 }).read(1)).toBeNull();
  });

  it('keeps its letters when it is drawn wider, and gives the room to the curve', () => {
    const wide = whatIfCrop.draw(DATA, { widthPx: 1080 });
    expect(wide.svg).toContain('viewBox="0 0 1080 ');
    expect(wide.area.right).toBeGreaterThan(1000);
  });

  it('holds no number that is not one, and is the same twice', () => {
    expect(svg).not.toMatch(/NaN|undefined|Infinity/);
    expect(whatIfChart(DATA)).toBe(svg);
    expect(whatIfChart({ ...DATA, limitPercent: 0, points: [], marks: [] })).not.toMatch(/NaN|Infinity/);
  });
});

describe('the page and the text of an answer', () => {
  const pass = rolledPass({ seed: 3, speedMps: 0.2, durationS: 6 });
  const { run } = filesOf(pass);
  const document = (wish: WhatIfWish): WhatIfDocument =>
    parseWhatIf({
      schema: WHAT_IF_SCHEMA,
      tool: { version: '0.1.0', commit: null },
      run: { place: 'reports/x', clip: '<b>hall.mp4', sha256: '0', createdAt: run.createdAt, pass: run.pass },
      ...whatIf(pass, wish, { verdict: run.verdict }),
    });
  const asked = document({ focalLengthMm: 75, speedMps: 0.16 });
  const page = renderWhatIf(asked);
  const text = whatIfText(asked, { colour: false });

  it('mind a longer take beside the verdict, as the report does', () => {
    const minded: WhatIfDocument = structuredClone(asked);
    const [reason] = minded.then!.verdict.reasons;
    minded.then!.verdict.reasons.push({
      ...reason,
      code: LONGER_TAKE_OVER_LIMIT,
      text: 'A take needs more.',
    });
    const first = /<section class="first"[\s\S]*?<div class="advice">/;
    expect(first.exec(renderWhatIf(minded))?.[0]).toMatch(/>Mind:<\/span>\s*A take needs more\./);
    expect(first.exec(page)?.[0]).not.toContain('A take needs more.');
  });

  it('begin with the verdict on what was asked, and its figures and limits', () => {
    const { verdict } = asked.then!;
    const [first] = text.split('\n');
    expect(first.startsWith(`${verdict.grade.toUpperCase()}  `)).toBe(true);
    expect(first).toContain('75 mm lens at 0.16 m/s');
    expect(first).toContain('limit');
    expect(page.indexOf('id="verdict"')).toBeLessThan(page.indexOf('As measured'));
  });

  it('break sentences at the edge of a window, and lose no word', () => {
    const columns = 76;
    const narrow = whatIfText(asked, { colour: false, columns });
    const together = (lines: string): string => lines.replace(/\s+/g, ' ');
    // Rows of a table stay whole.
    const sentences = narrow.split('\n').filter((line) => !/\S {2,}\S.* {2,}\S/.test(line));

    expect(Math.max(...sentences.map((line) => line.length))).toBeLessThanOrEqual(columns);
    expect(together(narrow)).toBe(together(text));
  });

  it('hold both states, both charts and every table', () => {
    for (const words of ['As measured', 'Then', 'Longest lens', 'Take of 60']) {
      expect(page).toContain(words);
      expect(text).toContain(words);
    }
    expect(page.match(/class="chart"/g)!.length).toBeGreaterThanOrEqual(3);
    for (const title of [
      'Other lenses',
      'Other speeds',
      'Other deliveries',
      'Other smoothings',
      'Other wheelbases',
    ]) {
      expect(page).toContain(title);
      expect(text).toContain(title);
    }
    expect(text).toContain('Lens 75 mm instead of 35 mm; Speed 0.16 m/s instead of 0.2 m/s');
  });

  it('say in the place of figures why there are none', () => {
    const fast = asked.tables.speed.filter(({ refused }) => refused !== null);
    expect(fast.length).toBeGreaterThan(0);
    expect(page.match(/<td colspan="3" class="muted">At this speed/g)).toHaveLength(fast.length);
    expect(text.match(/m\/s +At this speed/g)).toHaveLength(fast.length);
  });

  it('print ranges that the grade follows from', () => {
    const severity = { Pass: 0, Marginal: 1, Fail: 2 };
    const grade = (text: string, range: string, limit: number): number => {
      const ends = (range === '' ? [text, text] : range.split(' to ')).map((end) => Number.parseFloat(end));
      if (ends[0] > limit) return severity.Fail;
      return ends[1] <= limit ? severity.Pass : severity.Marginal;
    };
    let told = 0;
    for (const share of [0.8, 1, 1.1, 1.5]) {
      const maxCropPercent = Number((share * pass.sections.stabilise.cropPercent).toPrecision(2));
      const maxResidualPx = 0.1;
      const answer = document({ focalLengthMm: 75, delivery: { maxCropPercent, maxResidualPx } });
      for (const { title, cases } of caseTables(answer))
        for (const { crop, left, grade: word, refused } of title === 'Other deliveries' ? [] : cases) {
          if (refused !== null || word === null) continue;
          told++;
          expect({ pass: 0, marginal: 1, fail: 2 }[word]).toBe(
            Math.max(
              grade(crop.text, crop.range, maxCropPercent),
              grade(left.text, left.range, maxResidualPx),
            ),
          );
        }
    }
    expect(told).toBeGreaterThan(40);
  });

  it('say what the ranges hold, and what a diamond off the curve is', () => {
    expect(text).toContain(whatIfTexts.rangesHold);
    expect(page).toContain(whatIfTexts.rangesHold);
    expect(page).toContain('A diamond off the curve is the pass as shot (other lens, other speed)');
    expect(withoutScript(renderWhatIf(document({})))).not.toContain('off the curve');
  });

  const rows = (wish: WhatIfWish): Map<string, readonly string[]> =>
    new Map(comparedRows(document(wish)).rows.map(([name, ...texts]) => [name, texts]));

  it('name the length of every take, and the way that it is foretold for', () => {
    expect([...rows({ takeS: 90 }).keys()]).toContain('Take of 60 s, then 90 s');
    const still = rows({ mode: 'holdStill' }).get('Take of 60 s')!;
    expect(still[0]).not.toContain('where the move is kept');
    expect(still[1]).toContain('where the move is kept');
  });

  it('tell blur where the shutter is asked for, and a lens without a limit', () => {
    expect(
      rows({ shutterAngleDeg: 45 })
        .get('Blur that pulses')!
        .every((cell) => / px/.test(cell)),
    ).toBe(true);
    expect(rows({ focalLengthMm: 50 }).has('Blur that pulses')).toBe(false);
    const [, endless] = rows({ delivery: { maxCropPercent: 45, maxResidualPx: 400 } }).get('Longest lens')!;
    expect(endless).toMatch(/^no limit up to \d+\u202fmm$/);
  });

  it('say why another shape of the picture costs less', () => {
    const { widthPx, heightPx } = pass.source;
    const wide = document({ delivery: { widthPx, heightPx: Math.round(heightPx / 1.4 / 2) * 2 } });
    expect(whatIfText(wide, { colour: false })).toContain('leaves room above and below');
    expect(renderWhatIf(wide)).toContain('leaves room above and below');
  });

  it('tell steps with what they come to, as a run does', () => {
    const tight = document({ delivery: { maxCropPercent: pass.sections.stabilise.cropPercent / 2 } });
    expect(whatIfText(tight, { colour: false })).toMatch(/\nOr: +.*\(crop .* %.*\)/);
    const faster = document({
      speedMps: 0.25,
      delivery: { maxCropPercent: pass.sections.stabilise.cropPercent / 2 },
    });
    for (const told of [whatIfText(faster, { colour: false }), renderWhatIf(faster)])
      expect(told).toContain('ask without the change.');
  });

  it('say first that a question cannot be answered', () => {
    const refused = document({ speedMps: 2 });
    const [first] = whatIfText(refused, { colour: false }).split('\n');
    expect(first).toMatch(/^NOT FORETOLD {2}At this speed/);
    expect(renderWhatIf(refused)).toContain('Not foretold');
    expect(whatIfText(refused, { colour: false })).not.toContain('Do first');
  });

  it('stand alone and let nothing of the outside in', () => {
    expect(page).toContain('&lt;b&gt;hall.mp4');
    expect(page).not.toContain('<b>hall');
    // The figures of the charts, and the script of the page.
    const scripts = [...page.matchAll(/<script([^>]*)>/g)].map(([, attributes]) => attributes);
    expect(scripts.every((attributes) => !attributes.includes('src'))).toBe(true);
    expect(withoutScript(page)).not.toMatch(/https?:\/\/(?!www\.w3\.org)/);
    expect(withoutScript(page)).not.toMatch(/NaN|undefined/);
    expect(text).not.toMatch(/\u001b|NaN|undefined/);
    expect(renderWhatIf(asked)).toBe(page);
  });

  it('show a run that nothing was asked of as it is', () => {
    const plain = document({});
    expect(whatIfText(plain, { colour: false })).toContain('hall.mp4, as it was measured');
    expect(whatIfText(plain, { colour: false })).not.toContain('Then ');
    expect(renderWhatIf(plain)).toContain('Nothing asked');
  });
});
