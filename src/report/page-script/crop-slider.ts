/** The smoothing slider: moves and resizes the crop window over the frame, and tells what each setting costs and leaves. */
import { outlinePath, shadePath, type CropSliderData, type Outline } from '../charts/index.js';

/** Starts every slider inside `root`: shows it, and lets it move the window of the figure that it stands in. */
export function startCropSlider(root: ParentNode): void {
  for (const slider of root.querySelectorAll<HTMLElement>('.crop-slider')) {
    const figure = slider.closest('figure');
    const input = slider.querySelector('input');
    const stored = slider.querySelector('.crop-slider-data')?.textContent;
    if (!figure || !input || !stored) continue;
    const data = JSON.parse(stored) as CropSliderData;
    const show = (): void => showStep(figure, slider, input, data);
    input.addEventListener('input', show);
    slider.hidden = false;
    show();
  }
}

function showStep(figure: Element, slider: Element, input: HTMLInputElement, data: CropSliderData): void {
  const at = Number(input.value);
  const step = data.steps[at];
  const { widthPx, heightPx } = data;
  const moved = at !== data.chosen;
  input.setAttribute('aria-valuetext', step.spoken);
  const say = (part: string, words: string): void => {
    for (const element of slider.querySelectorAll(`.${part}`)) element.textContent = words;
  };
  say('smoothing', step.smoothing);
  say('crop', step.crop);
  say('left', step.left);
  say('lens', step.lens);
  say('word', step.stands);
  for (const mark of slider.querySelectorAll<HTMLElement>('[data-grade]'))
    mark.hidden = mark.dataset.grade !== step.grade;
  // Windows of other frames belong to the setting of the report; any other setting shows the one that decides its size.
  figure.classList.toggle('moved', moved);
  const draw = (part: string, d: string): void => {
    for (const path of figure.querySelectorAll(`svg .${part}`)) path.setAttribute('d', d);
  };
  draw('shade', shadePath(step.window, widthPx, heightPx));
  for (const part of ['window', 'window-edge']) draw(part, outlinePath(step.window, widthPx, heightPx));
  draw('window-deciding', outlinePath(step.deciding, widthPx, heightPx));
  data.safe.forEach((share, i) =>
    draw(`safe-${i}`, outlinePath(within(step.window, share), widthPx, heightPx)),
  );
}

/** A part of a window about its middle; a bent window keeps its bend. */
function within(window: readonly number[], share: number): Outline {
  const middle = [0, 1].map((k) => {
    const ofAxis = window.filter((_, i) => i % 2 === k);
    return ofAxis.reduce((sum, value) => sum + value, 0) / ofAxis.length;
  });
  return window.map((value, i) => middle[i % 2] + share * (value - middle[i % 2]));
}
