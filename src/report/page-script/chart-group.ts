/** Charts of one horizontal axis: they move their cursor together and show the same stretch. */
import type { Stretch } from '../charts/index.js';
import * as zoom from './zoom.js';

/** What a group asks of each of its charts. */
export interface GroupedChart {
  /** The axis to look closer at; null for a chart that always shows the whole. */
  readonly zoomAxis: zoom.ZoomAxis | null;
  /** Draws anew, with the stretch of the group. */
  redraw(): void;
  /** Shows what stands at a place, or nothing. */
  readAt(at: number | null): void;
}

/** The ways to look closer. */
export type ZoomStep = 'closer' | 'wider' | 'left' | 'right' | 'whole';

/** Charts that belong together. */
export class ChartGroup {
  /** Where the cursor stands. */
  at: number | null = null;
  /** What is shown; null for the whole. */
  shown: Stretch | null = null;
  readonly #charts: GroupedChart[] = [];
  readonly #onZoom: (() => void)[] = [];

  /** Adds a chart. */
  add(chart: GroupedChart): void {
    this.#charts.push(chart);
  }

  /** Is told after what is shown has changed. */
  onZoom(told: () => void): void {
    this.#onZoom.push(told);
  }

  /** Moves the cursor of all charts, or takes it away. */
  read(at: number | null): void {
    this.at = at;
    for (const chart of this.#charts) chart.readAt(at);
  }

  /** Shows the part between two places; nothing happens where no chart has parts. */
  show(one: number, other: number): void {
    this.#zoom((axis) => zoom.between(axis, one, other));
  }

  /** Goes one step closer, wider, aside or back to the whole. */
  step(step: ZoomStep): void {
    this.#zoom((axis) => {
      switch (step) {
        case 'closer':
          return zoom.closer(axis, this.shown, this.at);
        case 'wider':
          return zoom.wider(axis, this.shown, this.at);
        case 'left':
          return zoom.aside(axis, this.shown, -1);
        case 'right':
          return zoom.aside(axis, this.shown, 1);
        case 'whole':
          return null;
      }
    });
  }

  #zoom(next: (axis: zoom.ZoomAxis) => Stretch | null): void {
    const axes = this.#charts.flatMap(({ zoomAxis }) => (zoomAxis === null ? [] : [zoomAxis]));
    if (axes.length === 0) return;
    this.shown = next({
      whole: [Math.min(...axes.map(({ whole }) => whole[0])), Math.max(...axes.map(({ whole }) => whole[1]))],
      log: axes[0].log,
      closest: Math.max(0, ...axes.map(({ closest }) => closest ?? 0)),
    });
    for (const chart of this.#charts) if (chart.zoomAxis !== null) chart.redraw();
    for (const told of this.#onZoom) told();
  }
}
