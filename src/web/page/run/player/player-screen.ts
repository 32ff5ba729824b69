/** Ties play, frames and canvases together: what is shown follows the place of play and the view that is asked for. */
import { effect, signal } from '@preact/signals';
import { FrameFetcher } from './frame-fetcher.js';
import { FrameMesh, outlineOf, type PlayedView } from './frame-mesh.js';
import { FrameRing } from './frame-ring.js';
import { Playback } from './playback.js';
import { paintShot } from './shot-painter.js';
import { stabilisedPainter, type StabilisedPainter } from './stabilised-painter.js';

/** Decoded frames take no more memory than this, bytes. */
const MEMORY_BYTES = 150e6;
/** Canvases are no wider than this, px. */
const WIDEST_PX = 1920;

/** What is drawn on: the frame as it was shot, or stabilised. */
export type CanvasKind = 'shot' | 'stabilised';

/** A canvas with what it takes to draw on it. */
interface Canvas {
  readonly element: HTMLCanvasElement;
  readonly paint: (picture: ImageBitmap, places: Float32Array | null) => void;
  readonly watch: ResizeObserver;
}

/** Shows the frames of one run. */
export class PlayerScreen {
  readonly playback: Playback;
  /** How the stabilised picture is drawn; null until it is. */
  readonly drawn = signal<StabilisedPainter['kind'] | null>(null);
  /** Why frames cannot be shown; null while they can. */
  readonly fault = signal<unknown>(null);
  readonly #ring: FrameRing<ImageBitmap>;
  readonly #fetcher: FrameFetcher<ImageBitmap>;
  readonly #canvases = new Map<CanvasKind, Canvas>();
  readonly #ends: (() => void)[];
  #mesh: FrameMesh | null = null;
  #tick = 0;

  /** @param load fetches and decodes one frame */
  constructor(
    size: { readonly widthPx: number; readonly heightPx: number },
    load: (frame: number, signal: AbortSignal) => Promise<ImageBitmap>,
  ) {
    this.#ring = new FrameRing(MEMORY_BYTES, size);
    this.playback = new Playback((frame) => this.#ring.has(frame));
    this.#fetcher = new FrameFetcher({
      ring: this.#ring,
      load,
      onFrame: (frame) => {
        if (frame === this.playback.frame.peek()) this.#paint();
      },
      onFault: (error) => (this.fault.value = error),
    });
    this.#ends = [
      effect(() => {
        this.#look(this.playback.frame.value, this.playback.rate.value);
        this.#paint();
      }),
      effect(() => this.#run(this.playback.rate.value !== 0)),
    ];
  }

  /** Tells the frames by their stamps in seconds, and how many of them are made so far. */
  setTimes(timeS: readonly number[], made: number): void {
    this.playback.setTimes(timeS, made);
    this.#look(this.playback.frame.peek(), this.playback.rate.peek());
    this.#paint();
  }

  /** What is taken out of the frames; null shows them as they are. */
  setView(view: PlayedView | null): void {
    this.#mesh = view && new FrameMesh(view);
    this.#paint();
  }

  /** Draws on a canvas from now on, or no more where it is null. */
  setCanvas(kind: CanvasKind, element: HTMLCanvasElement | null): void {
    this.#canvases.get(kind)?.watch.disconnect();
    this.#canvases.delete(kind);
    if (element === null) return;
    const paint = kind === 'shot' ? shotPaint(element) : this.#stabilisedPaint(element);
    if (paint === null) return;
    const watch = new ResizeObserver(() => {
      const perPx = Math.min(globalThis.devicePixelRatio, WIDEST_PX / Math.max(1, element.clientWidth));
      element.width = Math.max(1, Math.round(element.clientWidth * perPx));
      element.height = Math.max(1, Math.round(element.clientHeight * perPx));
      this.#paint();
    });
    this.#canvases.set(kind, { element, paint, watch });
    watch.observe(element);
  }

  /** Ends play and lets go of all frames. */
  close(): void {
    cancelAnimationFrame(this.#tick);
    for (const end of this.#ends) end();
    for (const { watch } of this.#canvases.values()) watch.disconnect();
    this.#canvases.clear();
    this.#fetcher.close();
  }

  #look(at: number, rate: number): void {
    this.#fetcher.look({ at, direction: rate < 0 ? -1 : 1, count: this.playback.made });
  }

  #paint(): void {
    const picture = this.#ring.get(this.playback.frame.peek());
    if (picture === null) return;
    const places = this.#mesh && this.#mesh.places(this.playback.timeS);
    // A hidden canvas has no size; it is drawn when it gets one.
    for (const { element, paint } of this.#canvases.values()) if (element.width > 1) paint(picture, places);
  }

  #run(on: boolean): void {
    cancelAnimationFrame(this.#tick);
    if (!on) return;
    let before = performance.now();
    const next = (now: number): void => {
      this.playback.tick(Math.max(0, now - before) / 1000);
      before = now;
      this.#tick = requestAnimationFrame(next);
    };
    this.#tick = requestAnimationFrame(next);
  }

  #stabilisedPaint(element: HTMLCanvasElement): Canvas['paint'] | null {
    const painter = stabilisedPainter(element);
    this.drawn.value = painter && painter.kind;
    return painter && ((picture, places) => places && painter.paint(picture, places));
  }
}

function shotPaint(element: HTMLCanvasElement): Canvas['paint'] | null {
  const context = element.getContext('2d', { alpha: false });
  return context && ((picture, places) => paintShot(context, picture, places && outlineOf(places)));
}
