/** The points that were followed in the frame of a report, as the series file of a run holds them: fractions of the frame. */
import type { StoredFrame } from './run/index.js';
import type { TrackTable } from './tracking/index.js';

/** No more points than this are stored; of more, an even choice. */
export const MOST_POINTS = 400;
/** A time stamp may be rounded to whole milliseconds on its way. */
const ROUNDING_S = 0.001;

/**
 * The frame on screen at `atS` (the last that is not later, as in `grabPicture`; the first one before all) and its points.
 *
 * @param kept what became of each observation of the table, see `Motion.keptObservations`
 * @param atS seconds from the start of the clip
 */
export function storedFrame(table: TrackTable, kept: Uint8Array, atS: number): StoredFrame {
  const { widthPx, heightPx, timeS, obsFrame, xPx, yPx } = table;
  let frame = 0;
  while (frame + 1 < timeS.length && timeS[frame + 1] <= atS + ROUNDING_S) frame++;
  const seen: number[] = [];
  obsFrame.forEach((of, o) => {
    if (of === frame && Number.isFinite(xPx[o]) && Number.isFinite(yPx[o])) seen.push(o);
  });
  const shown = evenChoice(seen, MOST_POINTS);
  // Pixel centres lie on whole numbers, so the frame reaches from -0.5 to width - 0.5. Four digits are a tenth of a pixel.
  const fraction = (px: number, of: number): number => Number(((px + 0.5) / of).toFixed(4));
  return {
    atS,
    pointsX: shown.map((o) => fraction(xPx[o], widthPx)),
    pointsY: shown.map((o) => fraction(yPx[o], heightPx)),
    kept: shown.map((o) => kept[o]),
  };
}

function evenChoice(all: readonly number[], most: number): readonly number[] {
  if (all.length <= most) return all;
  return Array.from({ length: most }, (_, k) => all[Math.round((k * (all.length - 1)) / (most - 1))]);
}
