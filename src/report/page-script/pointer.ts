/** Pointer over a chart: moving reads it off, dragging with a mouse or a pen shows the stretch that was dragged over. */
import type { LiveChart } from './live-chart.js';

/** A pointer that went less far was pressed, not dragged; px. */
const DRAG_PX = 8;

/** Lets a pointer read the chart; a finger moves the cursor along and leaves scrolling up and down to the page. */
export function readByPointer(chart: LiveChart): void {
  const { layer, group } = chart;
  /** Where a drag began, px of the screen. */
  let start: number | null = null;

  layer.addEventListener('pointerdown', (event) => {
    if (event.button !== 0) return;
    if (event.pointerType !== 'touch' && chart.zoomAxis !== null) {
      start = event.clientX;
      layer.setPointerCapture(event.pointerId);
    }
    group.read(chart.valueAt(event.clientX));
  });
  layer.addEventListener('pointermove', (event) => {
    if (start !== null) chart.shade(isDrag(start, event) ? [start, event.clientX] : null);
    group.read(chart.valueAt(event.clientX));
  });
  layer.addEventListener('pointerup', (event) => {
    if (start !== null && isDrag(start, event))
      group.show(chart.valueAt(start), chart.valueAt(event.clientX));
    end();
  });
  layer.addEventListener('pointercancel', end);
  layer.addEventListener('pointerleave', (event) => {
    // What was pressed keeps its reading, and so does a finger that was lifted.
    if (event.pointerType === 'mouse' && document.activeElement !== layer) group.read(null);
  });
  layer.addEventListener('keydown', (event) => event.key === 'Escape' && end());

  function end(): void {
    start = null;
    chart.shade(null);
  }
}

function isDrag(start: number, { clientX }: PointerEvent): boolean {
  return Math.abs(clientX - start) >= DRAG_PX;
}
