/** Where the rows of the time line stand: heights by width, quiet rows low; px of the drawing. */
import type { PlotArea } from '../axes.js';
import type { TimelineAxis, TimelineData } from './data.js';

/** One row in its place. */
export interface TimelineRow {
  readonly axis: TimelineAxis;
  /** Base line of the words over the row, and where it begins and ends. */
  readonly titleY: number;
  readonly left: number;
  readonly right: number;
  /** The strip of the intended move; null when it is switched off or the row is quiet. */
  readonly strip: PlotArea | null;
  /** Null in a quiet row. */
  readonly plot: PlotArea | null;
}

/** All rows and what is around them. */
export interface TimelineLayout {
  readonly narrow: boolean;
  /** From the first row to the last. */
  readonly area: PlotArea;
  readonly rows: readonly TimelineRow[];
  readonly heightPx: number;
}

/** Below this width rows are lower and words shorter, px. */
const NARROW = 560;
const LEFT = 74;
const RIGHT_MARGIN = 12;
const MARKS = 20;
const TITLE = 17;
const STRIP = 14;
const GAP = 10;
const QUIET_GAP = 5;
const TIME_AXIS = 34;
const PLACE_AXIS = 28;

/** Stacks the rows of the axes that are shown. */
export function timelineLayout(
  { marks, places }: TimelineData,
  axes: readonly TimelineAxis[],
  widthPx: number,
  withMove: boolean,
): TimelineLayout {
  const narrow = widthPx < NARROW;
  const plotPx = narrow ? 46 : 62;
  const [left, right] = [LEFT, widthPx - RIGHT_MARGIN];
  const top = marks.length > 0 ? MARKS : 2;
  let y = top;
  const rows = axes.map((axis): TimelineRow => {
    const titleY = y + 12;
    y += TITLE;
    if (axis.curve === null) {
      y += QUIET_GAP;
      return { axis, titleY, left, right, strip: null, plot: null };
    }
    const strip = withMove ? { left, right, top: y, bottom: y + STRIP } : null;
    if (strip !== null) y += STRIP + 4;
    const plot = { left, right, top: y, bottom: y + plotPx };
    y += plotPx + GAP;
    return { axis, titleY, left, right, strip, plot };
  });
  const bottom = Math.max(y - GAP + 4, top + TITLE);
  return {
    narrow,
    area: { left, right, top, bottom },
    rows,
    heightPx: bottom + TIME_AXIS + (places === null ? 0 : PLACE_AXIS),
  };
}
