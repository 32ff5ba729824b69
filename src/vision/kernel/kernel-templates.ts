/** Templates of a pair of pictures, found by the SIMD kernel; laid out for assembly/template.ts. */
import { CONTRAST_FLOOR, cutTemplate, windowWeights, type AffineTemplate } from '../affine-template.js';
import { LEAST_GAIN, MATCH_LIMITS } from '../template-match.js';
import type { SmoothPicture, Template, TemplateCutter } from '../types.js';
import { templateRowFloats, type Scratch } from './layout.js';
import type { Kernel } from './load-kernel.js';

/** Doubles of a place, and where behind them the kernel puts the weighted RMS of the rest. */
const PLACE_DOUBLES = 6;

/** What a thread works with. */
interface Tools {
  readonly kernel: Kernel;
  readonly buffer: ArrayBufferLike;
  readonly scratch: Scratch;
  /** The current picture; its levels are a view of the buffer. */
  readonly current: () => SmoothPicture;
}

/** See `PicturePair.templates`. */
export function kernelTemplates({ kernel, buffer, scratch, current }: Tools, halfPx: number): TemplateCutter {
  const weights = windowWeights(halfPx);
  const rows = inRows(weights, halfPx);
  new Float32Array(buffer, scratch.templateWeights, rows.length).set(rows);
  const answer = new Float64Array(buffer, scratch.place, PLACE_DOUBLES + 1);
  return {
    cut(xPx, yPx): Template | null {
      const template = cutTemplate(current(), xPx, yPx, halfPx, weights);
      if (!template) return null;
      const packed = packTemplate(template, weights);
      const room = new Float64Array(buffer, scratch.template, packed.length);
      return {
        contrastGrey: template.contrastGrey,
        find(place) {
          const { levels, widthPx, heightPx } = current();
          const { xPx: x, yPx: y, xx, xy, yx, yy } = place;
          room.set(packed);
          answer.set([x, y, xx, xy, yx, yy]);
          const iterations = kernel.matchTemplate(
            levels.byteOffset,
            widthPx,
            heightPx,
            scratch.template,
            scratch.templateWeights,
            halfPx,
            scratch.place,
            MATCH_LIMITS.iterations,
            MATCH_LIMITS.stepPx,
            LEAST_GAIN,
          );
          if (iterations < 0) return { found: false, residualGrey: Infinity, iterations: -1 - iterations };
          [place.xPx, place.yPx, place.xx, place.xy, place.yx, place.yy] = answer;
          return { found: true, residualGrey: answer[PLACE_DOUBLES], iterations };
        },
      };
    },
  };
}

/** A template as the kernel reads it: inverse normal matrix, mean, contrast, then rows of grey less its mean and of weighted slopes. */
function packTemplate(template: AffineTemplate, weights: Float64Array): Float64Array {
  const { halfPx, grey, slopeX, slopeY, meanGrey, contrastGrey, inverseNormal } = template;
  const columns = [
    grey.map((level) => level - meanGrey),
    slopeX.map((slope, i) => weights[i] * slope),
    slopeY.map((slope, i) => weights[i] * slope),
  ].map((column) => inRows(column, halfPx));
  const head = [...inverseNormal, meanGrey, contrastGrey + CONTRAST_FLOOR];
  const packed = new Float64Array(head.length + (columns.length * columns[0].length) / 2);
  packed.set(head);
  const floats = new Float32Array(packed.buffer, packed.byteLength - 4 * columns.length * columns[0].length);
  columns.forEach((column, i) => floats.set(column, i * column.length));
  return packed;
}

/** Values of a window row by row, each row filled up to a whole number of vectors. */
function inRows(values: Float64Array, halfPx: number): Float32Array {
  const side = 2 * halfPx + 1;
  const length = templateRowFloats(halfPx);
  const rows = new Float32Array(side * length);
  for (let y = 0; y < side; y++) rows.set(values.subarray(y * side, (y + 1) * side), y * length);
  return rows;
}
