/** Writes a sheet with rectangles and lines of text as PDF 1.4 (ISO 32000): vectors in points, so that it prints to scale. */
import type { BoardPage } from './board-page.js';

/** A point is 1/72 in (ISO 32000-1, 8.3.2.3). */
const POINTS_PER_MM = 72 / 25.4;

/** The bytes of the sheet as a one-page PDF; the same bytes for the same sheet. Texts must be plain ASCII. */
export function boardPdf(page: BoardPage): Uint8Array {
  const at = (mm: number): string => String(Number((mm * POINTS_PER_MM).toFixed(4)));
  // The page's own origin is its bottom left corner.
  const up = (yMm: number): string => at(page.heightMm - yMm);
  const drawing = [
    '0 g',
    ...page.rectangles.map(
      ({ x, y, width, height }) => `${at(x)} ${up(y + height)} ${at(width)} ${at(height)} re`,
    ),
    'f',
    ...page.texts.map(
      ({ xMm, yMm, sizeMm, text }) =>
        `BT /F1 ${at(sizeMm)} Tf ${at(xMm)} ${up(yMm)} Td (${text.replace(/[\\()]/g, '\\$&')}) Tj ET`,
    ),
  ].join('\n');
  const objects = [
    '<< /Type /Catalog /Pages 2 0 R /ViewerPreferences << /PrintScaling /None >> >>',
    '<< /Type /Pages /Kids [3 0 R] /Count 1 >>',
    `<< /Type /Page /Parent 2 0 R /MediaBox [0 0 ${at(page.widthMm)} ${at(page.heightMm)}] /Contents 4 0 R /Resources << /Font << /F1 5 0 R >> >> >>`,
    `<< /Length ${drawing.length} >>\nstream\n${drawing}\nendstream`,
    '<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica >>',
  ];
  let text = '%PDF-1.4\n';
  const offsets = objects.map((object, i) => {
    const offset = text.length;
    text += `${i + 1} 0 obj\n${object}\nendobj\n`;
    return offset;
  });
  const tableAt = text.length;
  text += `xref\n0 ${objects.length + 1}\n0000000000 65535 f \n`;
  for (const offset of offsets) text += `${String(offset).padStart(10, '0')} 00000 n \n`;
  text += `trailer\n<< /Size ${objects.length + 1} /Root 1 0 R >>\nstartxref\n${tableAt}\n%%EOF\n`;
  return Buffer.from(text, 'latin1');
}
