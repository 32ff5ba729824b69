/** Templates of a pair of pictures, cut and found by the SIMD kernel; laid out as assembly/template-record.ts has it. */
import { CONTRAST_FLOOR, invertNormal, UNKNOWNS } from '../affine-template.js';
import { LEAST_GAIN, MATCH_LIMITS } from '../template-match.js';
import { templateWindow, type TemplateSize, type TemplateWindow } from '../template-window.js';
import type { SmoothPicture, Template, TemplateCutter } from '../types.js';
import { isInside } from '../window-samples.js';
import { templateBytes, templateRowFloats, type Scratch } from './layout.js';
import type { Kernel } from './load-kernel.js';

/** Doubles of a place, and where behind them the kernel puts the weighted RMS of the rest. */
const PLACE_DOUBLES = 6;

/** Doubles of the matrix of a template; its mean and its contrast stand behind it. */
const MATRIX_DOUBLES = UNKNOWNS * UNKNOWNS;

/** What a thread works with. */
interface Tools {
  readonly kernel: Kernel;
  readonly buffer: ArrayBufferLike;
  readonly scratch: Scratch;
  /** The current picture; its levels are a view of the buffer. */
  readonly current: () => SmoothPicture;
}

/** See `PicturePair.templates`. */
export function kernelTemplates(
  { kernel, buffer, scratch, current }: Tools,
  size: TemplateSize,
): TemplateCutter {
  const window = templateWindow(size);
  const { halfPx, rows, rowStepPx } = window;
  const weights = weightRows(window);
  new Float32Array(buffer, scratch.templateWeights, weights.length).set(weights);
  const answer = new Float64Array(buffer, scratch.place, PLACE_DOUBLES + 1);
  const room = new Float64Array(buffer, scratch.template, templateBytes(size) / 8);
  return {
    cut(xPx, yPx): Template | null {
      const picture = current();
      if (!isInside(picture, { xPx, yPx, xx: 1, xy: 0, yx: 0, yy: 1 }, halfPx + 0.5)) return null;
      kernel.cutTemplate(
        picture.levels.byteOffset,
        picture.widthPx,
        xPx,
        yPx,
        scratch.template,
        scratch.templateWeights,
        halfPx,
        rows,
        rowStepPx,
        CONTRAST_FLOOR,
        scratch.place,
      );
      const cut = room.slice();
      cut.set(invertNormal(cut.slice(0, MATRIX_DOUBLES)));
      return {
        contrastGrey: cut[MATRIX_DOUBLES + 1] - CONTRAST_FLOOR,
        find(place) {
          const { levels, widthPx, heightPx } = current();
          room.set(cut);
          answer[0] = place.xPx;
          answer[1] = place.yPx;
          answer[2] = place.xx;
          answer[3] = place.xy;
          answer[4] = place.yx;
          answer[5] = place.yy;
          const iterations = kernel.matchTemplate(
            levels.byteOffset,
            widthPx,
            heightPx,
            scratch.template,
            scratch.templateWeights,
            halfPx,
            rows,
            rowStepPx,
            scratch.place,
            MATCH_LIMITS.iterations,
            MATCH_LIMITS.stepPx,
            MATCH_LIMITS.aheadPx,
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

/** Weights of a window row by row, each row filled up to a whole number of vectors. */
function weightRows({ halfPx, columns, rows, weights }: TemplateWindow): Float32Array {
  const length = templateRowFloats(halfPx);
  const filled = new Float32Array(rows * length);
  for (let row = 0; row < rows; row++)
    filled.set(weights.subarray(row * columns, (row + 1) * columns), row * length);
  return filled;
}
