/** The points of a template: where its window is sampled, and what each sample counts; lengths in pixels. */

/** Size of the windows of one clip. */
export interface TemplateSize {
  /** Half-width: columns lie one pixel apart from -halfPx to halfPx, rows as far up and down as fit. */
  readonly halfPx: number;
  /** Distance of the rows; a blurred picture holds nothing that rows one pixel apart would tell and wider ones not. */
  readonly rowStepPx: number;
}

/** A window with its weights. */
export interface TemplateWindow extends TemplateSize {
  readonly columns: number;
  readonly rows: number;
  /** Weights of the samples, row by row, sum 1. */
  readonly weights: Float64Array;
}

/** Standard deviation of the Gaussian weight, in half-widths of the window: the middle counts, the rim steadies. */
const WEIGHT_SIGMA = 0.6;

/** The window of a size. */
export function templateWindow({ halfPx, rowStepPx }: TemplateSize): TemplateWindow {
  const columns = 2 * halfPx + 1;
  const rows = rowCount({ halfPx, rowStepPx });
  const along = (count: number, stepPx: number): number[] => {
    const density = Array.from({ length: count }, (_, i) =>
      Math.exp(-0.5 * (((i - (count - 1) / 2) * stepPx) / (WEIGHT_SIGMA * halfPx)) ** 2),
    );
    const sum = density.reduce((total, one) => total + one, 0);
    return density.map((one) => one / sum);
  };
  const across = along(columns, 1);
  const weights = Float64Array.from(along(rows, rowStepPx).flatMap((w) => across.map((v) => w * v)));
  return { halfPx, rowStepPx, columns, rows, weights };
}

/** Rows of a window, an odd number. */
export function rowCount({ halfPx, rowStepPx }: TemplateSize): number {
  return 2 * Math.floor(halfPx / rowStepPx) + 1;
}
