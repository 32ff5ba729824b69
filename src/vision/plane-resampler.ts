/**
 * Draws one plane of a picture anew from given places in a source plane (pixels, centres on whole numbers).
 *
 * Two passes of eight samples each instead of one of sixty-four (Catmull and Smith, "3-D transformations of images in
 * scanline order", SIGGRAPH 1980): first every source row along its own columns, then every output pixel across those
 * rows. Right for warps that turn the picture by a few degrees: the first pass shears it, so that detail of frequency
 * (fx, fy) reaches the second one at fy + fx tan(turn). Beyond the border the outermost samples go on.
 */
import { LANCZOS_PHASES, LANCZOS_TAPS, lanczosWeights } from './lanczos.js';

/** Samples of a plane, row by row: 8 bits, or up to 16. */
export type Samples = Uint8Array | Uint16Array;

/** Where the nodes of a grid over the output plane lie in the source plane, row by row. */
export interface PlaceGrid {
  readonly xPx: Float64Array;
  readonly yPx: Float64Array;
}

/** Width and height of a plane in its own samples. */
export interface PlaneSize {
  readonly widthPx: number;
  readonly heightPx: number;
}

/** Nodes stand at every 16th output pixel from the first one on. */
export const GRID_STEP_PX = 16;

const STEP_BITS = 4;
const PHASE_BITS = 10;
const TAP_BITS = 3;
const PHASE_MASK = LANCZOS_PHASES - 1;
/** Samples of a window before the whole pixel at or before the place. */
const BEFORE = LANCZOS_TAPS / 2 - 1;
/** Room for the windows of places up to half a window outside; further out only the outermost sample counts. */
const MARGIN = LANCZOS_TAPS;
const FURTHEST_OUT = LANCZOS_TAPS / 2;

/** Nodes along one side: the last one stands on or beyond the last pixel. */
export function gridNodes(sidePx: number): number {
  return Math.ceil((sidePx - 1) / GRID_STEP_PX) + 1;
}

/** Resamples planes of one size; holds the memory for it, so one per thread and size. */
export class PlaneResampler {
  readonly #source: PlaneSize;
  readonly #output: PlaneSize;
  readonly #columns: number;
  readonly #rows: number;
  readonly #weights = lanczosWeights();
  /** One source row with its outermost samples repeated on both sides. */
  readonly #line: Float64Array;
  /** Source rows, MARGIN more on either side, drawn along output columns. */
  readonly #drawn: Float32Array;
  /** Places of the grid columns in the row at hand, and the grid row each has come to. */
  readonly #nodes: Float64Array;
  readonly #segments: Int32Array;

  constructor(source: PlaneSize, output: PlaneSize) {
    this.#source = source;
    this.#output = output;
    this.#columns = gridNodes(output.widthPx);
    this.#rows = Math.max(2, gridNodes(output.heightPx));
    this.#line = new Float64Array(source.widthPx + 2 * MARGIN);
    this.#drawn = new Float32Array((source.heightPx + 2 * MARGIN) * output.widthPx);
    this.#nodes = new Float64Array(this.#columns + 1);
    this.#segments = new Int32Array(this.#columns);
  }

  /** Nodes of the grids this takes: across, and down (at least 2). */
  get grid(): { readonly columns: number; readonly rows: number } {
    return { columns: this.#columns, rows: this.#rows };
  }

  /**
   * Fills `target`; between the nodes places are bilinear. Values are rounded and kept within 0..maximum.
   *
   * @param source not changed
   * @param maximum greatest value of the bit depth, for example 1023
   * @throws RangeError when a length does not fit
   */
  resample(source: Samples, places: PlaceGrid, target: Samples, maximum: number): void {
    const { widthPx, heightPx } = this.#output;
    checkLength('source', source, this.#source.widthPx * this.#source.heightPx);
    checkLength('target', target, widthPx * heightPx);
    checkLength('places', places.xPx, this.#columns * this.#rows);
    checkLength('places', places.yPx, this.#columns * this.#rows);
    this.#drawRows(source, places);
    for (let y = 0; y < heightPx; y++) {
      const node = y >> STEP_BITS;
      const share = (y - node * GRID_STEP_PX) / GRID_STEP_PX;
      const above = node * this.#columns;
      const below = Math.min(node + 1, this.#rows - 1) * this.#columns;
      for (let i = 0; i < this.#columns; i++) {
        const from = places.yPx[above + i];
        this.#nodes[i] = from + share * (places.yPx[below + i] - from);
      }
      this.#acrossRows(target, y * widthPx, maximum);
    }
  }

  /** First pass: the source rows on which the output draws, each along its own places. */
  #drawRows(source: Samples, { xPx, yPx }: PlaceGrid): void {
    const columns = this.#columns;
    const rows = this.#rows;
    const nodes = this.#nodes;
    const segments = this.#segments.fill(0);
    const [first, last] = this.#rowsNeeded(yPx);
    for (let row = first; row <= last; row++) {
      this.#loadRow(source, row);
      for (let i = 0; i < columns; i++) {
        let at = segments[i];
        while (at < rows - 2 && yPx[(at + 1) * columns + i] < row) at++;
        segments[i] = at;
        const node = at * columns + i;
        const height = yPx[node + columns] - yPx[node];
        const share = height > 0 ? (row - yPx[node]) / height : 0;
        nodes[i] = xPx[node] + share * (xPx[node + columns] - xPx[node]);
      }
      this.#alongRow((row + MARGIN) * this.#output.widthPx);
    }
  }

  #rowsNeeded(yPx: Float64Array): readonly [number, number] {
    let least = Infinity;
    let greatest = -Infinity;
    for (const y of yPx) {
      if (y < least) least = y;
      if (y > greatest) greatest = y;
    }
    const { heightPx } = this.#source;
    const within = (row: number): number => Math.max(1 - MARGIN, Math.min(heightPx - 1 + MARGIN, row));
    if (!(least <= greatest)) return [1 - MARGIN, heightPx - 1 + MARGIN];
    // One more than the window: places are rounded to the nearest phase.
    return [within(Math.floor(least) - BEFORE - 1), within(Math.floor(greatest) + FURTHEST_OUT + 1)];
  }

  #loadRow(source: Samples, row: number): void {
    const { widthPx, heightPx } = this.#source;
    const line = this.#line;
    const from = Math.max(0, Math.min(heightPx - 1, row)) * widthPx;
    for (let x = 0; x < widthPx; x++) line[x + MARGIN] = source[from + x];
    line.fill(source[from], 0, MARGIN);
    line.fill(source[from + widthPx - 1], MARGIN + widthPx);
  }

  /** Writes one row of the first pass, from the places of `nodes`. */
  #alongRow(to: number): void {
    const line = this.#line;
    const drawn = this.#drawn;
    const weights = this.#weights;
    const nodes = this.#nodes;
    const { widthPx } = this.#output;
    const least = (MARGIN - FURTHEST_OUT) * LANCZOS_PHASES;
    const greatest = (this.#source.widthPx - 1 + MARGIN + FURTHEST_OUT - 1) * LANCZOS_PHASES;
    for (let cell = 0; cell < widthPx; cell += GRID_STEP_PX) {
      const node = cell >> STEP_BITS;
      const end = Math.min(widthPx, cell + GRID_STEP_PX);
      let at = (nodes[node] + MARGIN) * LANCZOS_PHASES + 0.5;
      const step = ((nodes[node + 1] - nodes[node]) * LANCZOS_PHASES) / GRID_STEP_PX;
      for (let x = cell; x < end; x++) {
        let q = at | 0;
        at += step;
        q = q < least ? least : q > greatest ? greatest : q;
        const i = (q >> PHASE_BITS) - BEFORE;
        const w = (q & PHASE_MASK) << TAP_BITS;
        drawn[to + x] =
          line[i] * weights[w] +
          line[i + 1] * weights[w + 1] +
          line[i + 2] * weights[w + 2] +
          line[i + 3] * weights[w + 3] +
          line[i + 4] * weights[w + 4] +
          line[i + 5] * weights[w + 5] +
          line[i + 6] * weights[w + 6] +
          line[i + 7] * weights[w + 7];
      }
    }
  }

  /** Writes one row of the output, from the rows of the first pass at the places of `nodes`. */
  #acrossRows(target: Samples, to: number, maximum: number): void {
    const drawn = this.#drawn;
    const weights = this.#weights;
    const nodes = this.#nodes;
    const width = this.#output.widthPx;
    const least = (MARGIN - FURTHEST_OUT) * LANCZOS_PHASES;
    const greatest = (this.#source.heightPx - 1 + MARGIN + FURTHEST_OUT - 1) * LANCZOS_PHASES;
    for (let cell = 0; cell < width; cell += GRID_STEP_PX) {
      const node = cell >> STEP_BITS;
      const end = Math.min(width, cell + GRID_STEP_PX);
      let at = (nodes[node] + MARGIN) * LANCZOS_PHASES + 0.5;
      const step = ((nodes[node + 1] - nodes[node]) * LANCZOS_PHASES) / GRID_STEP_PX;
      for (let x = cell; x < end; x++) {
        let q = at | 0;
        at += step;
        q = q < least ? least : q > greatest ? greatest : q;
        const i = ((q >> PHASE_BITS) - BEFORE) * width + x;
        const w = (q & PHASE_MASK) << TAP_BITS;
        const value =
          (drawn[i] * weights[w] +
            drawn[i + width] * weights[w + 1] +
            drawn[i + 2 * width] * weights[w + 2] +
            drawn[i + 3 * width] * weights[w + 3] +
            drawn[i + 4 * width] * weights[w + 4] +
            drawn[i + 5 * width] * weights[w + 5] +
            drawn[i + 6 * width] * weights[w + 6] +
            drawn[i + 7 * width] * weights[w + 7] +
            0.5) |
          0;
        target[to + x] = value < 0 ? 0 : value > maximum ? maximum : value;
      }
    }
  }
}

function checkLength(what: string, values: ArrayLike<number>, expected: number): void {
  if (values.length !== expected)
    throw new RangeError(`${what}: expected ${expected} values, got ${values.length}`);
}
