/** Draws a sheet with rectangles and lines of text as PNG that carries its own resolution, so that it prints to scale. */
import type { BoardPage } from './board-page.js';

/** 300 dpi as PNG stores it: whole pixels per metre. */
const PX_PER_MM = 11.811;
const DOTS_PER_INCH = 300;

/** Pixel (centres on whole numbers) of a place on the sheet, mm. */
export function pngPixel(placeMm: number): number {
  return placeMm * PX_PER_MM - 0.5;
}

/** The bytes of the sheet as a grey PNG of 300 dpi; edges between two pixels are grey to the right share. */
export async function boardPng(page: BoardPage): Promise<Uint8Array> {
  const at = (mm: number): string => (mm * PX_PER_MM).toFixed(3);
  const width = Math.round(page.widthMm * PX_PER_MM);
  const height = Math.round(page.heightMm * PX_PER_MM);
  // One path, so that neighbouring cells of a marker leave no seam.
  const black = page.rectangles
    .map(({ x, y, width: w, height: h }) => `M${at(x)} ${at(y)}h${at(w)}v${at(h)}h${at(-w)}z`)
    .join('');
  const texts = page.texts.map(
    ({ xMm, yMm, sizeMm, text }) =>
      `<text x="${at(xMm)}" y="${at(yMm)}" font-size="${at(sizeMm)}" font-family="Helvetica, Arial, sans-serif">${text}</text>`,
  );
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}"><path d="${black}"/>${texts.join('')}</svg>`;
  const { default: sharp } = await import('sharp');
  return sharp(Buffer.from(svg))
    .flatten({ background: '#fff' })
    .greyscale()
    .withMetadata({ density: DOTS_PER_INCH })
    .png({ compressionLevel: 9 })
    .toBuffer();
}
