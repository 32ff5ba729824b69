/** How much of the shake is angular and how much translational: one bar, 0 to 100 %, with the 95 % range of the border between. */
import { scaleLinear } from 'd3-scale';
import { motionTexts } from '../../texts/index.js';
import { element, svgRoot, textElement } from './svg.js';

const WIDTH = 360;
const HEIGHT = 62;

/**
 * Draws the bar.
 * @param share angular share, 0..1
 * @param ci95 its 95 % range, 0..1, null when unknown
 * @param id prefix of the ids inside, so that several bars can stand on one page
 * @returns SVG text, 360 x 62
 */
export function shareBar(share: number, ci95: readonly [number, number] | null, id = 'share'): string {
  const x = scaleLinear([0, 1], [1, WIDTH - 1]).clamp(true);
  const middle = x(share);
  const hatch = `${id}-hatch`;
  const percent = (value: number): string => `${Math.round(100 * value)} %`;
  const label = motionTexts.shareBar(percent(share), percent(1 - share));
  const whisker = ci95
    ? [
        element('path', {
          class: 'range-bar',
          d: `M${x(ci95[0]).toFixed(2)} 45H${x(ci95[1]).toFixed(2)}M${x(ci95[0]).toFixed(2)} 41v8M${x(ci95[1]).toFixed(2)} 41v8`,
        }),
      ]
    : [];
  return svgRoot(
    WIDTH,
    HEIGHT,
    label,
    element(
      'defs',
      {},
      element(
        'pattern',
        { id: hatch, width: 6, height: 6, patternUnits: 'userSpaceOnUse', patternTransform: 'rotate(45)' },
        element('rect', { class: 'translational-fill', width: 6, height: 6 }),
        element('line', { class: 'hatch', x1: 0, y1: 0, x2: 0, y2: 6 }),
      ),
    ),
    element('rect', { class: 'angular-fill', x: 1, y: 16, width: middle - 1, height: 20 }),
    element('rect', { x: middle, y: 16, width: WIDTH - 1 - middle, height: 20, fill: `url(#${hatch})` }),
    element('line', { class: 'border', x1: middle, x2: middle, y1: 13, y2: 45 }),
    ...whisker,
    textElement({ class: 'tick-label', x: 1, y: 10 }, motionTexts.shareAngular),
    textElement(
      { class: 'tick-label', x: WIDTH - 1, y: 10, 'text-anchor': 'end' },
      motionTexts.shareTranslational,
    ),
    textElement({ class: 'tick-label', x: 1, y: 58 }, percent(share)),
    textElement({ class: 'tick-label', x: WIDTH - 1, y: 58, 'text-anchor': 'end' }, percent(1 - share)),
  );
}
