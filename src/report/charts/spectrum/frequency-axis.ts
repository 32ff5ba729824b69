/** The logarithmic axis of frequency that spectra and bands share, in Hz. */
import { scaleLinear, scaleLog } from 'd3-scale';
import { spectrumTexts } from '../../../texts/index.js';
import { bottomAxis, type PlotArea } from '../axes.js';
import { tickCount, type Stretch } from '../live/stretch.js';
import { element } from '../svg.js';
import type { Scale } from './scale.js';

const ROUND = [0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100];
/** Fewer round frequencies than this leave a close look without a measure. */
const LEAST_TICKS = 3;
/** Room for a frequency and the gap to the next, px. */
const LABEL_PX = 40;

/** Room that the titles of a spectrum keep from its labels, px: small drawings are printed with large letters. */
export interface TitleRoom {
  /** Of the title of the vertical axis over where it usually stands. */
  readonly risePx: number;
  /** Of the title of the horizontal axis under the axis. */
  readonly dropPx: number;
  /** Under the plot. */
  readonly belowPx: number;
}

/** The room in a large drawing, and in a small one. */
export function titleRoom(large: boolean): TitleRoom {
  return large ? { risePx: 0, dropPx: 28, belowPx: 36 } : { risePx: 8, dropPx: 35, belowPx: 40 };
}

/** From frequency to px. */
export function frequencyScale([from, to]: Stretch, { left, right }: PlotArea): Scale {
  return scaleLog([from, to], [left, right]);
}

/** Ticks at round frequencies, closer ones where only a part is shown. @param room around the axis, for its titles */
export function frequencyAxis(area: PlotArea, x: Scale, [from, to]: Stretch, room: TitleRoom): string {
  const round = ROUND.filter((f) => f >= from && f <= to);
  const close = scaleLinear([from, to], [0, 1]).ticks(Math.min(8, tickCount(area, LABEL_PX)));
  const ticks = round.length < LEAST_TICKS ? close : round;
  return bottomAxis(
    area,
    ticks.map((f) => ({ at: x(f), label: String(Number(f.toPrecision(4))) })),
    spectrumTexts.frequencyAxis,
    room.dropPx,
  );
}

/** What lies below the cut-off is the intended move: dimmed. */
export function belowCutoff(area: PlotArea, x: Scale, cutoffHz: number): string {
  const right = Math.min(area.right, x(cutoffHz));
  if (!(right > area.left)) return '';
  return element('rect', {
    class: 'unused',
    x: area.left,
    y: area.top,
    width: right - area.left,
    height: area.bottom - area.top,
  });
}
