/** The running angles in three rows over one time line, degrees: rough, as they come. */
import { thinOut, tickLabels } from '../../../report/in-browser.js';
import { verdictTexts, workTexts } from '../../../texts/index.js';
import type { JoinedTrace } from '../joined-trace.js';
import { useWidth } from '../trim/use-width.js';
import { linePath, roundRange, roundTicks, scaleTo, type Range, type Scale } from './trace-scale.js';

const LEFT = 52;
const RIGHT = 10;
const TITLE = 18;
const ROW = 62;
const GAP = 8;
const AXIS = 36;
/** A row spans a tenth of a degree at least: less is noise of the rough angles. */
const LEAST_SPAN_DEG = 0.1;

/** Shows them. @param stretchS the measured stretch of the clip; null while it is not known, then the axis grows with the trace */
export function TraceChart({
  trace,
  stretchS,
  name,
}: {
  readonly trace: JoinedTrace | null;
  readonly stretchS: Range | null;
  readonly name: string;
}) {
  const [ref, widthPx] = useWidth<HTMLDivElement>();
  const { timeS = [], panDeg = [], tiltDeg = [], rollDeg = [] } = trace ?? {};
  const time = stretchS ?? ([timeS.at(0) ?? 0, Math.max(timeS.at(-1) ?? 0, (timeS.at(0) ?? 0) + 1)] as const);
  const right = Math.max(LEFT + 1, widthPx - RIGHT);
  const x = scaleTo(time, [LEFT, right]);
  const rows = [
    { words: verdictTexts.axes.pan, values: panDeg },
    { words: verdictTexts.axes.tilt, values: tiltDeg },
    { words: verdictTexts.axes.roll, values: rollDeg },
  ];
  const bottom = rows.length * (TITLE + ROW + GAP) - GAP;
  return (
    <div ref={ref} class="trace">
      {widthPx > 0 && (
        <svg
          class="chart"
          viewBox={`0 0 ${widthPx} ${bottom + AXIS}`}
          role="img"
          aria-label={workTexts.traceLabel(name)}
        >
          {rows.map(({ words }, i) => (
            <rect
              key={words.name}
              class="strip"
              x={LEFT}
              y={i * (TITLE + ROW + GAP) + TITLE}
              width={right - LEFT}
              height={ROW}
            />
          ))}
          <TimeAxis {...{ time, x, right, bottom }} />
          {rows.map(({ words, values }, i) => (
            <Row
              key={words.name}
              {...{ timeS, values, x, right }}
              name={words.name}
              meaning={words.meaning}
              top={i * (TITLE + ROW + GAP)}
            />
          ))}
        </svg>
      )}
    </div>
  );
}

function Row({
  timeS,
  values,
  x,
  right,
  name,
  meaning,
  top,
}: {
  readonly timeS: readonly number[];
  readonly values: readonly number[];
  readonly x: Scale;
  readonly right: number;
  readonly name: string;
  readonly meaning: string;
  readonly top: number;
}) {
  const range = roundRange(values, LEAST_SPAN_DEG);
  const [from, to] = [top + TITLE + ROW, top + TITLE];
  const y = scaleTo(range, [from, to]);
  const ticks = roundTicks(range, 3);
  const labels = tickLabels(ticks);
  const drawn = thinOut(values, right - LEFT);
  const now = values.at(-1);
  return (
    <g>
      <text class="row-title" x={LEFT} y={top + 12}>
        <tspan class="row-name">{name}</tspan>
        <tspan dx="6">{meaning}</tspan>
      </text>
      {now !== undefined && (
        <text class="row-title" x={right} y={top + 12} text-anchor="end">
          {workTexts.traceNow(signed(now))}
        </text>
      )}
      {ticks.map((value, i) => (
        <g key={value}>
          <line class="grid" x1={LEFT} x2={right} y1={y(value)} y2={y(value)} />
          <text class="tick-label" x={LEFT - 5} y={y(value) + 3.5} text-anchor="end">
            {labels[i]}
          </text>
        </g>
      ))}
      <path class="series angular" d={linePath(timeS, values, drawn, x, y)} />
    </g>
  );
}

function TimeAxis({
  time,
  x,
  right,
  bottom,
}: {
  readonly time: Range;
  readonly x: Scale;
  readonly right: number;
  readonly bottom: number;
}) {
  const ticks = roundTicks(time, Math.max(2, Math.min(8, (right - LEFT) / 80)));
  const labels = tickLabels(ticks);
  return (
    <g>
      {ticks.map((value, i) => (
        <g key={value}>
          <line class="grid" x1={x(value)} x2={x(value)} y1={TITLE} y2={bottom} />
          <line class="tick" x1={x(value)} x2={x(value)} y1={bottom} y2={bottom + 4} />
          <text class="tick-label" x={x(value)} y={bottom + 16} text-anchor="middle">
            {labels[i]}
          </text>
        </g>
      ))}
      <line class="axis" x1={LEFT} x2={right} y1={bottom} y2={bottom} />
      <text class="axis-title" x={right} y={bottom + 30} text-anchor="end">
        {workTexts.traceTime}
      </text>
      <text class="axis-title" x={0} y={bottom + 30}>
        {workTexts.traceUnit}
      </text>
    </g>
  );
}

/** Hundredths: more would be noise. */
function signed(degrees: number): string {
  const text = Math.abs(degrees).toFixed(2);
  return degrees < 0 && Number(text) !== 0 ? `−${text}` : text;
}
