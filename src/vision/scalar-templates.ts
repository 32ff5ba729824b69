/** Templates of a pair of pictures, cut and found by plain loops. */
import { cutTemplate, windowWeights } from './affine-template.js';
import { TemplateMatcher } from './template-match.js';
import type { SmoothPicture, Template, TemplateCutter } from './types.js';

/** See `PicturePair.templates`. @param current gives the picture that is the current one */
export function scalarTemplates(current: () => SmoothPicture, halfPx: number): TemplateCutter {
  const weights = windowWeights(halfPx);
  const matcher = new TemplateMatcher(weights);
  return {
    cut(xPx, yPx): Template | null {
      const template = cutTemplate(current(), xPx, yPx, halfPx, weights);
      return (
        template && {
          contrastGrey: template.contrastGrey,
          find: (place) => matcher.match(current(), template, place),
        }
      );
    },
  };
}
