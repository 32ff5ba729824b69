/** Pages on paper: size of the sheets, page numbers, pictures and colours, no script run and nothing asked for. */
import { inflateSync } from 'node:zlib';
import { afterAll, describe, expect, it } from 'vitest';
import { printPage, renderHtml, type PrintPaper } from '../../src/report/index.js';
import { madeUpBundle } from '../report/support/made-up-bundle.js';
import { launchBrowser } from './support/launch.js';

/** Sheets in points of 1/72 inch; browsers round to whole CSS px of 0.75 pt. */
const SHEETS: Record<PrintPaper, readonly [number, number]> = { a4: [595.3, 841.9], letter: [612, 792] };
const ROUNDING_PT = 0.75;

const launch = await launchBrowser();
await launch.browser?.close();
if (launch.browser === null) process.stderr.write(`Tests of PDFs are left out. ${launch.reason}\n`);
const title = launch.browser === null ? `the PDF (left out: ${launch.reason})` : 'the PDF';

describe.skipIf(launch.browser === null)(title, () => {
  const page = renderHtml(madeUpBundle(), null);
  const printed = new Map<PrintPaper, Promise<string>>();
  afterAll(() => printed.clear());

  /** The file as text of one byte a letter, its streams unpacked after it. */
  function pdfText(paper: PrintPaper, html = page): Promise<string> {
    const print = async (): Promise<string> => {
      const bytes = Buffer.from(await printPage(html, { paper }));
      const text = bytes.toString('latin1');
      const streams = [...text.matchAll(/stream\r?\n/g)].map(({ index, 0: { length } }) => {
        const from = index + length;
        try {
          return inflateSync(bytes.subarray(from, bytes.indexOf('endstream', from))).toString('latin1');
        } catch {
          return '';
        }
      });
      return `${text}\n${streams.join('\n')}`;
    };
    if (html !== page) return print();
    const known = printed.get(paper) ?? print();
    printed.set(paper, known);
    return known;
  }

  it.each(['a4', 'letter'] as const)('has upright sheets of %s, all of one size', async (paper) => {
    const boxes = [...(await pdfText(paper)).matchAll(/\/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]/g)];
    expect(boxes.length).toBeGreaterThan(1);
    for (const [, width, height] of boxes) {
      expect(Math.abs(Number(width) - SHEETS[paper][0])).toBeLessThanOrEqual(ROUNDING_PT);
      expect(Math.abs(Number(height) - SHEETS[paper][1])).toBeLessThanOrEqual(ROUNDING_PT);
    }
  });

  it('numbers its sheets', async () => {
    const text = await pdfText('a4');
    const sheets = [...text.matchAll(/\/MediaBox /g)].length;
    const said = lettersOf(text);
    expect(said.some((line) => line.includes(`page 1 of ${sheets}`))).toBe(true);
    expect(said.some((line) => line.includes(`page ${sheets} of ${sheets}`))).toBe(true);
  });

  it('is tagged for screen readers, has an outline of its headings, a title and a language', async () => {
    const text = await pdfText('a4');
    expect(text).toMatch(/\/MarkInfo\s*<<[^>]*\/Marked true/);
    expect(text).toMatch(/\/Type \/Outlines|\/Outlines \d+ 0 R/);
    expect(text).toMatch(/\/Title \(Pass: dairy-hall/);
    expect(text).toMatch(/\/Lang \(en\)/);
  });

  it('runs no script and asks for nothing', async () => {
    const html =
      '<!doctype html><html lang="en"><head><title>before</title></head><body><p>x</p><img src="http://127.0.0.1:9/a.png" alt=""><script>document.title = "after"</script></body></html>';
    const text = await pdfText('a4', html);
    expect(text).toContain('/Title (before)');
    expect(text).not.toContain('after');
  });
});

/** What is written in a PDF, read once with the letters of each font: in one of them every text makes sense. */
function lettersOf(text: string): string[] {
  const fonts = [...text.matchAll(/begincmap[^]*?endcmap/g)].map(([cmap]) => {
    const letters = new Map<string, string>();
    for (const [, list] of cmap.matchAll(/beginbfchar([^]*?)endbfchar/g))
      for (const [, glyph, letter] of list.matchAll(/<(\w{4})> <(\w+)>/g)) letters.set(glyph, letter);
    for (const [, list] of cmap.matchAll(/beginbfrange([^]*?)endbfrange/g))
      for (const [, from, to, letter] of list.matchAll(/<(\w{4})> <(\w{4})> <(\w{4})>/g))
        for (let i = 0; i <= parseInt(to, 16) - parseInt(from, 16); i++)
          letters.set(hex4(parseInt(from, 16) + i), hex4(parseInt(letter, 16) + i));
    return letters;
  });
  const strings = [...text.matchAll(/<((?:[0-9A-F]{4})+)>|\bET\b/g)].map(([, glyphs]) => glyphs ?? ' ');
  return fonts.map((letters) =>
    strings
      .flatMap((glyphs) => glyphs.match(/\w{4}/g) ?? [])
      .map((glyph) => String.fromCharCode(parseInt(letters.get(glyph.toUpperCase()) ?? 'fffd', 16)))
      .join(''),
  );
}

function hex4(value: number): string {
  return value.toString(16).toUpperCase().padStart(4, '0');
}
