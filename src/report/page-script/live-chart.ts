/** One chart that can be looked into: draws it at the size of its box and tells what stands at a place. */
import { inUnits, type Units } from '../../run/index.js';
import { pageScriptTexts } from '../../texts/index.js';
import type { ChartKind, ChartSeries, ChartView, DrawnChart, Reading } from '../charts/index.js';
import type { ChartGroup, GroupedChart } from './chart-group.js';
import { Cursor } from './cursor.js';
import { showInUnits } from './drawing-units.js';
import { make } from './elements.js';
import { pxAt, valueAt } from './place.js';
import type { ZoomAxis } from './zoom.js';

/** A kind of chart together with its data. */
export interface BoundChart extends Required<Pick<ChartKind<never>, 'axis' | 'zoom' | 'closest'>> {
  readonly draw: (view: ChartView) => DrawnChart;
  readonly series: readonly ChartSeries[];
}

/** Width that a chart is asked at about its axis, px: the axis is the same at every width. */
const ANY_WIDTH = 360;

/** The live side of one figure. */
export class LiveChart implements GroupedChart {
  readonly zoomAxis: ZoomAxis | null;
  /** Lies over the drawing: takes pointer and keys, and tells screen readers what is read. */
  readonly layer: HTMLElement;
  readonly #box: HTMLElement;
  /** Charts in a grid are read in one line: more would be a hole over each. */
  readonly #brief: boolean;
  readonly #drawing = make('div', { class: 'live-drawing' });
  readonly #cursor = new Cursor();
  readonly #reading = make('span', { class: 'live-read' });
  /** As tall as the longest reading needs at this width, so that nothing moves while the chart is read. */
  readonly #room = make('p', { class: 'live-reading' });
  /** The drawings as they stood in the file: they go back for printing. */
  readonly #printed: string;
  readonly #size = new ResizeObserver(() => this.#fit());
  #printing = false;
  #drawn: DrawnChart;
  #widthPx = 0;
  #hidden: readonly string[] = [];

  constructor(
    figure: HTMLElement,
    box: HTMLElement,
    readonly chart: BoundChart,
    readonly group: ChartGroup,
    readonly units: Units,
  ) {
    this.#box = box;
    this.#brief = figure.closest('.charts') !== null;
    this.#drawn = chart.draw({ widthPx: ANY_WIDTH });
    const { domain, log } = this.#drawn;
    const whole = [Math.min(...domain), Math.max(...domain)] as const;
    this.zoomAxis = chart.zoom && whole[0] < whole[1] ? { whole, log, closest: chart.closest } : null;
    this.layer = make('div', {
      class: 'live-layer',
      role: 'slider',
      tabindex: '0',
      'aria-label': pageScriptTexts.cursor(nameOf(figure)),
    });
    this.#drawing.append(...box.childNodes);
    this.#printed = this.#drawing.innerHTML;
    box.append(this.#drawing, this.#cursor.element, this.layer);
    if (this.#brief) this.#room.classList.add('brief');
    this.#room.append(this.#reading);
    box.before(this.#room);
    this.readAt(null);
    this.#size.observe(box);
    this.redraw();
  }

  /** True where the axis runs to the left. */
  get descending(): boolean {
    return this.#drawn.domain[0] > this.#drawn.domain[1];
  }

  /** Places that keys step through. */
  get stops(): readonly number[] {
    return this.#drawn.stops;
  }

  /** Series that are left out, by id. */
  get hidden(): readonly string[] {
    return this.#hidden;
  }

  /** Leaves other series out. */
  hide(ids: readonly string[]): void {
    this.#hidden = ids;
    this.redraw();
  }

  /** Draws at the width that the drawing has on the screen; one that is folded away is drawn when it unfolds. */
  redraw(): void {
    const before = this.#widthPx;
    this.#widthPx = Math.floor(this.#picture()?.getBoundingClientRect().width ?? 0);
    if (this.#printing || this.#widthPx === 0) return;
    const { shown } = this.group;
    this.#drawn = this.chart.draw({
      widthPx: this.#widthPx,
      hidden: this.#hidden,
      brief: this.#brief,
      ...(shown === null || this.zoomAxis === null ? {} : { from: shown[0], to: shown[1] }),
    });
    this.#drawing.innerHTML = this.#drawn.svg;
    showInUnits(this.#drawing, this.units);
    if (before !== this.#widthPx) this.#reserve();
    this.#lay();
    this.readAt(this.group.at);
  }

  /** Puts the drawings of the file back for paper, or draws for the screen again. */
  print(printing: boolean): void {
    if (this.#printing === printing) return;
    this.#printing = printing;
    if (printing) this.#drawing.innerHTML = this.#printed;
    else this.redraw();
  }

  /** Follows the size of its box no longer. */
  end(): void {
    this.#size.disconnect();
  }

  /** Shows what stands at a place, or nothing. */
  readAt(at: number | null): void {
    const here = at === null || pxAt(this.#drawn, at) === null ? null : this.#drawn.read(at);
    this.#cursor.mark(this.#drawn, here);
    this.#tell(here, at);
  }

  /** Shades what is dragged over between two places of the screen; null takes the shade away. */
  shade(clientX: readonly [number, number] | null): void {
    this.#cursor.shade(this.#drawn, clientX === null ? null : [this.#px(clientX[0]), this.#px(clientX[1])]);
  }

  /** The value of the axis at a place of the screen. */
  valueAt(clientX: number): number {
    return valueAt(this.#drawn, this.#px(clientX));
  }

  /** Makes room for the longest reading of what is shown. */
  #reserve(): void {
    const all = this.#drawn.stops.flatMap((at) => {
      const reading = this.#drawn.read(at);
      if (reading === null) return [];
      const { place, values } = this.#told(reading);
      return [`${place} ${values.join(', ')}`];
    });
    this.#room.dataset.longest = all.reduce((most, one) => (one.length > most.length ? one : most), '');
  }

  /** A reading in the units of the page. */
  #told({ place, values }: Reading): { readonly place: string; readonly values: readonly string[] } {
    return {
      place: inUnits(place, this.units),
      values: values.map(({ text }) => inUnits(text, this.units)),
    };
  }

  #px(clientX: number): number {
    const { left, width } = this.layer.getBoundingClientRect();
    return ((clientX - left) * this.#widthPx) / (width || 1);
  }

  #tell(reading: Reading | null, at: number | null): void {
    const [low, high] = [...this.#drawn.domain].sort((a, b) => a - b);
    const { place, values } = reading === null ? { place: '', values: [] } : this.#told(reading);
    const nothing = at === null ? pageScriptTexts.nothingRead : pageScriptTexts.nothingHere;
    this.#reading.replaceChildren(
      ...(reading === null ? [] : [make('b', {}, place), ` ${values.join(', ')}`]),
    );
    const told = {
      'aria-valuemin': figureOf(low),
      'aria-valuemax': figureOf(high),
      'aria-valuenow': figureOf(reading?.at ?? low),
      'aria-valuetext': reading === null ? nothing : pageScriptTexts.reading(place, values),
    };
    for (const [name, value] of Object.entries(told)) this.layer.setAttribute(name, value);
  }

  /** The drawing that is on the screen: of two, one is folded away. */
  #picture(): SVGSVGElement | undefined {
    const all = [...this.#drawing.querySelectorAll<SVGSVGElement>('svg.chart')];
    return all.find((svg) => svg.getBoundingClientRect().width > 0);
  }

  #fit(): void {
    const widthPx = Math.floor(this.#picture()?.getBoundingClientRect().width ?? 0);
    if (widthPx !== this.#widthPx) this.redraw();
    else this.#lay();
  }

  /** Puts cursor and layer over the drawing, which may be narrower than its box. */
  #lay(): void {
    const picture = this.#picture();
    if (picture === undefined) return;
    const [inner, outer] = [picture.getBoundingClientRect(), this.#box.getBoundingClientRect()];
    this.#cursor.fit(picture);
    for (const { style } of [this.#cursor.element, this.layer]) {
      style.left = `${inner.left - outer.left}px`;
      style.top = `${inner.top - outer.top}px`;
      style.width = `${inner.width}px`;
      style.height = `${inner.height}px`;
    }
  }
}

/** What a figure is called: the stressed words of its caption, else the caption, else the first words that tell its drawing. */
function nameOf(figure: HTMLElement): string {
  const caption = figure.querySelector('figcaption');
  const text = (caption?.querySelector('b') ?? caption)?.textContent.replace(/\s+/g, ' ').trim() ?? '';
  const told = figure.querySelector('svg[aria-label]')?.getAttribute('aria-label') ?? '';
  return text === '' ? told.split(/[:;.]\s/)[0] : text;
}

function figureOf(value: number): string {
  return String(Number(value.toPrecision(6)));
}
