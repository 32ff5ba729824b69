/** Templates of a pair of pictures, cut and found by plain loops. */
import { cutTemplate } from './affine-template.js';
import { TemplateMatcher } from './template-match.js';
import { templateWindow, type TemplateSize } from './template-window.js';
import type { SmoothPicture, Template, TemplateCutter } from './types.js';

/** See `PicturePair.templates`. @param current gives the picture that is the current one */
export function scalarTemplates(current: () => SmoothPicture, size: TemplateSize): TemplateCutter {
  const window = templateWindow(size);
  const matcher = new TemplateMatcher(window);
  return {
    cut(xPx, yPx): Template | null {
      const template = cutTemplate(current(), xPx, yPx, window);
      return (
        template && {
          contrastGrey: template.contrastGrey,
          find: (place) => matcher.match(current(), template, place),
        }
      );
    },
  };
}
