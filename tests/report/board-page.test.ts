import sharp from 'sharp';
import { beforeAll, describe, expect, it } from 'vitest';
import { CALIBRATION_BOARD, crossingAt } from '../../src/optics/index.js';
import { printBoard } from '../../src/print-board.js';
import { pngPixel, type BoardPage } from '../../src/report/index.js';
import { startVision } from '../../src/vision/index.js';
import { expectWithin } from '../support/expect-within.js';

const POINT_MM = 25.4 / 72;
const PRINTED = { abs: 1e-4, why: 'points are written with four decimals' };

/** Rectangles of a PDF page, mm from its top left corner. */
function rectanglesOf(
  pdf: string,
  heightMm: number,
): { x: number; y: number; width: number; height: number }[] {
  return [...pdf.matchAll(/^([\d.]+) ([\d.]+) ([\d.]+) ([\d.]+) re$/gm)].map(([, ...numbers]) => {
    const [x, bottom, width, height] = numbers.map((text) => Number(text) * POINT_MM);
    return { x, y: heightMm - bottom - height, width, height };
  });
}

describe('the board as PDF', () => {
  let pdf = '';
  let page: BoardPage;
  beforeAll(async () => {
    const printed = await printBoard({ format: 'pdf', paper: 'a4' });
    page = printed.page;
    pdf = Buffer.from(printed.bytes).toString('latin1');
  });

  // Source: ISO 216 A4 is 210 x 297 mm; a point is 1/72 in (ISO 32000-1, 8.3.2.3). Both from memory.
  it('is an A4 sheet on its long side with squares of exactly 25 mm', () => {
    const [, width, height] = /MediaBox \[0 0 ([\d.]+) ([\d.]+)\]/.exec(pdf)!.map(Number);
    expectWithin(width * POINT_MM, 297, PRINTED, 'width');
    expectWithin(height * POINT_MM, 210, PRINTED, 'height');
    const squares = rectanglesOf(pdf, 210).filter((r) => r.width > 24 && r.height > 24);
    expect(squares).toHaveLength(35);
    for (const { width: w, height: h } of squares) {
      expectWithin(w, 25, PRINTED, 'square');
      expectWithin(h, 25, PRINTED, 'square');
    }
    // Black squares of one row stand 50 mm apart.
    const top = squares.filter(({ y }) => Math.abs(y - squares[0].y) < 0.01);
    top.slice(1).forEach(({ x }, i) => expectWithin(x - top[i].x, 50, PRINTED, 'step'));
  });

  it('carries a line of 100 mm and asks to measure a square', () => {
    const lines = rectanglesOf(pdf, 210).filter((r) => r.height < 0.5 && r.width > 50);
    expect(lines).toHaveLength(1);
    expectWithin(lines[0].width, 100, PRINTED, 'line');
    expect(pdf).toContain('This line is 100 mm long');
    expect(pdf).toContain('Measure one and give it with --square');
    expect(pdf).toContain('focal length and distortion do not depend on it');
  });

  it('keeps everything on the sheet and off its edge', () => {
    for (const { x, y, width, height } of page.rectangles) {
      expect(Math.min(x, y, 297 - x - width, 210 - y - height)).toBeGreaterThan(7.9);
    }
  });

  it('has a table that points at each of its objects', () => {
    const start = Number(/startxref\n(\d+)/.exec(pdf)![1]);
    expect(pdf.slice(start, start + 4)).toBe('xref');
    const offsets = [...pdf.slice(start).matchAll(/^(\d{10}) 00000 n $/gm)].map(([, n]) => Number(n));
    expect(offsets).toHaveLength(5);
    offsets.forEach((offset, i) => expect(pdf.slice(offset, offset + 7)).toBe(`${i + 1} 0 obj`));
    const [, length, stream] = /Length (\d+) >>\nstream\n([\s\S]*?)\nendstream/.exec(pdf)!;
    expect(stream).toHaveLength(Number(length));
  });

  it('is the same file every time', async () => {
    const again = await printBoard({ format: 'pdf', paper: 'a4' });
    expect(Buffer.from(again.bytes).toString('latin1')).toBe(pdf);
  });

  it.each([
    ['a3', 37, 420],
    ['letter', 26, 279.4],
  ] as const)('takes the largest whole millimetre that fits on %s', async (paper, squareMm, widthMm) => {
    const { page: sheet } = await printBoard({ format: 'pdf', paper });
    expect([sheet.squareMm, sheet.widthMm]).toEqual([squareMm, widthMm]);
  });

  it('refuses squares that do not fit, and says which do', async () => {
    await expect(printBoard({ format: 'pdf', paper: 'a4', squareMm: 30 })).rejects.toThrow(
      /Squares of 30mm do not go on a4: from 5mm to 25\.2mm fit, or take a3 with --paper/,
    );
    await expect(printBoard({ format: 'pdf', paper: 'a4', squareMm: 2 })).rejects.toThrow(/do not go on a4/);
  });
});

describe('the board as PNG', () => {
  it('is found by the detector, every crossing where it was drawn, and prints to scale', async () => {
    const { page, bytes } = await printBoard({ format: 'png', paper: 'a4', squareMm: 24 });
    const picture = sharp(bytes);
    const { density, width: fullWidth } = await picture.metadata();
    expect(density).toBe(300);
    expectWithin(fullWidth, (297 / 25.4) * 300, { abs: 1, why: 'whole pixels' });
    // Half size is what a scan would be.
    const half = await picture
      .resize(Math.round(fullWidth / 2), Math.round((fullWidth * 210) / 297 / 2), {
        fit: 'fill',
        kernel: 'mitchell',
      })
      .extractChannel(0)
      .raw()
      .toBuffer({ resolveWithObject: true });
    const vision = await startVision();
    const finder = vision.openBoardFinder(CALIBRATION_BOARD);
    const found = finder.find({ widthPx: half.info.width, heightPx: half.info.height, grey: half.data });
    finder.close();
    expect(found.ids).toHaveLength(54);
    const [left, top] = [(297 - 10 * 24) / 2, page.rectangles[0].y];
    const scale = half.info.width / fullWidth;
    found.ids.forEach((id, i) => {
      const { x, y } = crossingAt(CALIBRATION_BOARD, id);
      const at = (mm: number): number => scale * (pngPixel(mm) + 0.5) - 0.5;
      const sharpEdge = { abs: 0.3, why: 'edges between pixels at half size' };
      expectWithin(found.xPx[i], at(left + 24 * x), sharpEdge, `x of ${id}`);
      expectWithin(found.yPx[i], at(top + 24 * y), sharpEdge, `y of ${id}`);
    });
  });
});
