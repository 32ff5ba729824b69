/** What the report says where translation could not be told from rotation: bounds, why, and what to change. */
import { figure, type RunDocument } from '../../run/index.js';
import { separationTexts } from '../../texts/index.js';
import { boundUp } from '../format.js';
import { axisNames, translationUnit } from '../wording.js';
import { html, type Markup } from './markup.js';

/** The note under the table of axes; null where the split holds. */
export function separationNote(run: RunDocument): Markup | null {
  const { translational, separation } = run.motion;
  const { observable, reason } = translational;
  if (observable === 'yes') return null;
  const { unsplit } = separation;
  return html`<div class="note">
    <p>
      ${observable === 'no' ? separationTexts.no : separationTexts.weak}${reason === null ? null : ` ${reason}`}
    </p>
    ${
      unsplit === null
        ? null
        : html`<p>
              ${separationTexts.ifAngular(
                boundUp(unsplit.ifAllAngular.panDeg),
                boundUp(unsplit.ifAllAngular.tiltDeg),
              )}${translationBounds(run)}${separationTexts.seeMore}
            </p>
            <ul>
              ${unsplit.change.map(({ text }) => html`<li>${text}</li>`)}
            </ul>`
    }
  </div>`;
}

/** Axes whose figures should not be relied upon; null when all may be. */
export function unreliableNote(run: RunDocument): Markup | null {
  const { unreliable } = run.motion;
  if (unreliable.length === 0) return null;
  const names = axisNames(run);
  return html`<div class="note">
    <p>${separationTexts.notReliable}</p>
    <ul>
      ${unreliable.map(
        ({ axis, reason }) => html`<li>${separationTexts.axisReason(names[axis].name, reason)}</li>`,
      )}
    </ul>
  </div>`;
}

function translationBounds(run: RunDocument): string {
  const { unsplit } = run.motion.separation;
  const { lateral, vertical } = unsplit?.ifAllTranslation ?? { lateral: null, vertical: null };
  if (lateral === null || vertical === null) return '';
  return separationTexts.ifTranslation(boundUp(lateral), boundUp(vertical), translationUnit(run));
}

/** How well the two were told apart, for the section on method. */
export function separationFigures(run: RunDocument): string {
  const { parallaxP } = run.motion.translational;
  const { panLateralCorrelation: pan, tiltVerticalCorrelation: tilt } = run.motion.separation;
  const parallax = parallaxP === null ? '' : separationTexts.parallax(figure(parallaxP));
  if (pan === null || tilt === null) return parallax;
  return `${parallax}${separationTexts.errorsTogether(figure(Math.abs(pan)), figure(Math.abs(tilt)))}`;
}
