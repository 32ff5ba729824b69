/** Buttons that look closer at a stretch of the axis of one or several charts. */
import { pageScriptTexts } from '../../texts/index.js';
import type { ChartGroup, ZoomStep } from './chart-group.js';
import { make, makeButton, setIdle } from './elements.js';

const STEPS = ['closer', 'wider', 'left', 'right', 'whole'] as const satisfies readonly ZoomStep[];

/** Makes the buttons. @param axis of the charts. @param leftIsUp true where the axis runs to the left */
export function zoomTools(
  group: ChartGroup,
  axis: keyof typeof pageScriptTexts.stretch,
  leftIsUp: boolean,
): HTMLElement {
  const turned = (step: ZoomStep): ZoomStep =>
    leftIsUp && step === 'left' ? 'right' : leftIsUp && step === 'right' ? 'left' : step;
  const buttons = STEPS.map((step) => makeButton(pageScriptTexts[step], () => group.step(turned(step))));
  // Of the whole, only a part can be shown.
  const show = (): void =>
    buttons.forEach((button, i) => setIdle(button, group.shown === null && STEPS[i] !== 'closer'));
  group.onZoom(show);
  show();
  return make(
    'div',
    { class: 'live-zoom', role: 'group', 'aria-label': pageScriptTexts.stretch[axis] },
    ...buttons,
  );
}
