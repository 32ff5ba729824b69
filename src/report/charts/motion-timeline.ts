/**
 * The motion of the six axes over one time line: shake with its noise band and the intended move, row by row, over one axis of seconds,
 * timecode and place along the run, with the joints and bumps of the floor where each axle meets them.
 */
import { scaleLinear } from 'd3-scale';
import { motionTexts } from '../../texts/index.js';
import { isShown, shownSeries, stopsWithin, stretchOf } from './live/stretch.js';
import type { ChartKind, ChartView, DrawnChart } from './live/types.js';
import { svgRoot } from './svg.js';
import { MOVE, timeOf, type TimelineData } from './timeline/data.js';
import { timelineLayout } from './timeline/layout.js';
import { readTimeline } from './timeline/read.js';
import { timelineRow } from './timeline/rows.js';
import { dimmedEnds, floorMarks, placeAxis, timeAxis, timeGrid } from './timeline/scales.js';

/** Draws the rows that are not hidden; heights stay those of the whole clip while a part of it is shown. */
function drawTimeline(data: TimelineData, view: ChartView): DrawnChart {
  const end = timeOf(data, Math.max(1, data.count - 1));
  const shown = stretchOf([data.fromS, end], view);
  const layout = timelineLayout(data, shownSeries(data.axes, view), view.widthPx, isShown(view, MOVE));
  const { area, rows, heightPx, narrow } = layout;
  const x = scaleLinear([...shown], [area.left, area.right]);
  const samples = Array.from({ length: data.count }, (_, i) => timeOf(data, i));
  return {
    svg: svgRoot(
      view.widthPx,
      heightPx,
      data.label,
      timeGrid(layout, x, shown),
      floorMarks(data, layout, x, shown),
      ...rows.map((row) => timelineRow(data, row, x, shown, narrow)),
      dimmedEnds(data, layout, x),
      timeAxis(data, area, x, shown),
      data.places === null ? '' : placeAxis(data.places, area, x, shown),
    ),
    area,
    domain: shown,
    log: false,
    read: (at) => readTimeline(data, rows, at, shown[1] - shown[0]),
    stops: stopsWithin(samples, shown),
  };
}

/** The time line as a kind of chart: each axis and the intended moves have a switch. */
export const motionTimeline: ChartKind<TimelineData> = {
  draw: drawTimeline,
  series: ({ axes }) => [
    ...axes.map(({ id, name, kind }) => ({ id, name, sample: `series ${kind}` })),
    ...(axes.some(({ curve }) => curve !== null)
      ? [{ id: MOVE, name: motionTexts.intendedMove, sample: 'intended' }]
      : []),
  ],
  axis: 'time',
  zoom: true,
};
