/** The contact picture: its size, that no text runs over or overlaps the edge, names that mean harm, and clips that tell nothing. */
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { lightColours, standaloneChartStyle } from '../../src/report/contact/chart-style.js';
import { contactDrawing, CONTACT_SIZE } from '../../src/report/contact/contact-drawing.js';
import { contactFigures } from '../../src/report/contact/contact-figures.js';
import { contactPicture, CONTACT_MOST_BYTES } from '../../src/report/contact/contact-picture.js';
import { PICTURE_FONT, useOwnFonts } from '../../src/report/contact/own-fonts.js';
import {
  shortenMiddleToPx,
  shortenToPx,
  textWidthPx,
  wrapToPx,
} from '../../src/report/contact/text-width.js';
import type { ReportBundle } from '../../src/report/index.js';
import { seededRandom } from '../../src/numerics/index.js';
import { corridorPicture, madeUpBundle } from './support/made-up-bundle.js';
import { madeUpMotion } from './support/made-up-motion.js';

const HOSTILE =
  '"><img src=x onerror=alert(1)> WWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWW & 日本 pass 03 of the tiled corridor.mp4';

const motion = madeUpMotion();
const BUNDLES: Readonly<Record<string, ReportBundle>> = {
  pass: madeUpBundle(() => {}, motion),
  hostile: madeUpBundle((run) => {
    run.clip.file = HOSTILE;
    run.stabilise.cropPercent = 8;
    run.stabilise.residual.rmsPx = 1.9;
    run.units = 'both';
  }, motion),
  'without a floor': madeUpBundle((run) => {
    run.surface = { ...run.surface, observable: false, reason: 'no wheelbase', profile: null, bumps: [] };
  }, motion),
  unmeasurable: madeUpBundle((run) => (run.tracking.featuresMedian = 12), motion),
};
const CASES: Readonly<Record<string, ReportBundle>> = {
  ...BUNDLES,
  'without a frame': { ...BUNDLES.pass, picture: null },
  upright: { ...BUNDLES.pass, picture: corridorPicture(90, 160) },
};

/** Every text that stands in the picture itself, charts left out: those have their sizes from the style. */
function textsOf(svg: string) {
  const own =
    /<text x="([\d.]+)" y="([\d.]+)" font-size="([\d.]+)" font-weight="(\d+)" fill="[^"]+">([^<]*)<\/text>/g;
  return [...svg.matchAll(own)].map(([, x, y, size, weight, text]) => ({
    x: Number(x),
    y: Number(y),
    sizePx: Number(size),
    bold: weight === '700',
    text: text.replace(/&(lt|gt|quot|amp|#39);/g, 'x'),
  }));
}

describe('the contact picture', () => {
  it.each(Object.keys(CASES))('keeps every text inside and legible: %s', (name) => {
    const texts = textsOf(contactDrawing(CASES[name]).svg);
    expect(texts.length).toBeGreaterThan(4);
    for (const { x, y, text, sizePx, bold } of texts) {
      expect(x + textWidthPx(text, { sizePx, bold }), text).toBeLessThanOrEqual(CONTACT_SIZE.widthPx - 30);
      expect(y + 0.3 * sizePx, text).toBeLessThanOrEqual(CONTACT_SIZE.heightPx);
      expect(y - sizePx, text).toBeGreaterThanOrEqual(0);
      // 26 px: 13 px when the picture is shown at half its size on a phone.
      expect(sizePx, text).toBeGreaterThanOrEqual(26);
    }
  });

  it.each(Object.keys(CASES))('keeps the frame between figures and charts: %s', (name) => {
    const { frame } = contactDrawing(CASES[name]);
    expect(frame.leftPx).toBeGreaterThanOrEqual(40);
    expect(frame.leftPx + frame.widthPx).toBeLessThanOrEqual(CONTACT_SIZE.widthPx - 40);
    expect(frame.topPx + frame.heightPx).toBeLessThan(CONTACT_SIZE.heightPx);
    expect(frame.heightPx).toBeGreaterThan(150);
  });

  it('is a PNG of 1080 x 1350 px in sRGB, the same bytes for the same run', async () => {
    const bundle = BUNDLES.pass;
    const [one, two] = [await contactPicture(bundle), await contactPicture(bundle)];
    const { width, height, format, space, icc } = await sharp(one).metadata();
    expect([width, height, format, space]).toEqual([1080, 1350, 'png', 'srgb']);
    expect(icc).toBeDefined();
    expect(Buffer.from(one).equals(Buffer.from(two))).toBe(true);
  });

  it('stays small enough to be passed on as it is, though the frame be nothing but noise', async () => {
    const random = seededRandom(5);
    const [widthPx, heightPx] = [640, 360];
    const rgb = Uint8Array.from({ length: 3 * widthPx * heightPx }, () => 255 * random());
    const bundle = { ...BUNDLES.unmeasurable, picture: { widthPx, heightPx, rgb } };
    expect((await contactPicture(bundle)).length).toBeLessThan(CONTACT_MOST_BYTES);
  });

  it('says what to shoot again where nothing could be measured, and shows no figures', () => {
    const { run } = BUNDLES.unmeasurable;
    const said = textsOf(contactDrawing(BUNDLES.unmeasurable).svg).map(({ text }) => text);
    expect(said).toContain('Unmeasurable');
    expect(said.join(' ')).toContain(run.verdict.advice[0].text.slice(0, 30));
    expect(said).not.toContain('Crop');
  });

  it('shows verdict, four figures, first step, clip, lens, speed and date', () => {
    const bundle = BUNDLES.pass;
    const said = textsOf(contactDrawing(bundle).svg).map(({ text }) => text);
    expect(said).toContain('Pass');
    expect(said).toContain('dairy-hall_concrete_pass-03.mp4');
    expect(said.find((line) => line.includes('35 mm lens'))).toMatch(/0\.25 m\/s.*2031-03-14/);
    for (const { name, value } of contactFigures(bundle.run)) {
      expect(said).toContain(name);
      expect(said).toContain(value);
    }
    expect(said.join(' ')).toContain(bundle.run.verdict.advice[0].text.slice(0, 40));
  });

  it('minds a longer take, and says of marks what filled, empty and 1 are', () => {
    const minded = madeUpBundle((run) => {
      for (const take of run.stabilise.longerTake) take.upper95Percent = 9;
    }, motion);
    const { svg } = contactDrawing(minded);
    const said = textsOf(svg)
      .map(({ text }) => text)
      .join(' ');
    expect(said).toMatch(/Mind: A 60 s take on a floor like this may need [^(]* % is allowed\./);
    expect(svg).toContain('Marks: filled goes up, empty goes down; 1 is the worst');
    const smooth = madeUpBundle((run) => (run.surface = { ...run.surface, bumps: [] }), motion);
    expect(contactDrawing(smooth).svg).not.toMatch(/1 is the worst|Marks:/);
  });

  it('tells speeds in feet where the run is told so', () => {
    const imperial = madeUpBundle((run) => (run.units = 'imperial'), motion);
    const said = textsOf(contactDrawing(imperial).svg).map(({ text }) => text);
    expect(said.find((line) => line.includes('35 mm lens'))).toContain('0.82 ft/s');
  });

  it('holds names as text and nothing else', () => {
    const { svg } = contactDrawing(BUNDLES.hostile);
    expect(svg).not.toContain('<img');
    expect(svg).toContain('&quot;&gt;&lt;img');
  });
});

describe('the style of charts in a picture', () => {
  it('has every colour put in and no rule that a picture engine does not know', () => {
    const style = standaloneChartStyle();
    expect(style).not.toMatch(/var\(|@media|--/);
    expect(style).toContain(`.series.angular{stroke:${lightColours().get('--angular')}`);
  });
});

describe('widths of text', () => {
  it('are at least those that the engine draws, for letters, figures and signs', async () => {
    await useOwnFonts();
    const sizePx = 100;
    const lines = [
      'The quick brown fox jumps 0123456789',
      'WAVE ÅÉЖ Ω — … ° ² × %',
      '"@#&*()[]{}<>+=~^_`\'|/\\!?;:,.-$',
    ];
    for (const bold of [false, true])
      for (const text of lines) {
        const escaped = text.replace(/[&<>]/g, (c) => `&#${c.charCodeAt(0)};`);
        const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="4000" height="200"><rect width="4000" height="200" fill="#fff"/><text x="10" y="120" font-family="${PICTURE_FONT}" font-size="${sizePx}" font-weight="${bold ? 700 : 400}" xml:space="preserve">${escaped}</text></svg>`;
        const { info } = await sharp(Buffer.from(svg)).trim().toBuffer({ resolveWithObject: true });
        const estimate = textWidthPx(text, { sizePx, bold });
        expect(info.width, text).toBeLessThanOrEqual(estimate);
        // Letters that have no entry of their own count as the widest one.
        expect(info.width, text).toBeGreaterThan(0.6 * estimate);
      }
  });

  it('decide where a text is shortened: at its end, or in its middle for names', () => {
    const style = { sizePx: 26 };
    expect(shortenToPx('tiled corridor', 400, style)).toBe('tiled corridor');
    for (const shorten of [shortenToPx, shortenMiddleToPx]) {
      const short = shorten('tiled corridor pass 03.mp4', 160, style);
      expect(short).toContain('…');
      expect(textWidthPx(short, style)).toBeLessThanOrEqual(160);
    }
    expect(shortenMiddleToPx('tiled corridor pass 03.mp4', 160, style)).toMatch(/^til.*mp4$/);
  });

  it('decide where a text is broken; a word too long for a line is broken within', () => {
    const style = { sizePx: 26 };
    const lines = wrapToPx(`Shim the joint ${'m'.repeat(60)} at once`, 300, 9, style);
    for (const line of lines) expect(textWidthPx(line, style)).toBeLessThanOrEqual(300);
    expect(lines.join('').replaceAll(' ', '')).toBe(`Shimthejoint${'m'.repeat(60)}atonce`);
    const two = wrapToPx('one two three four five six seven eight nine ten eleven', 200, 2, style);
    expect(two).toHaveLength(2);
    expect(two[1]).toMatch(/^(?:[a-z]+ )*(?:four|five|six|seven)…$/);
  });
});
