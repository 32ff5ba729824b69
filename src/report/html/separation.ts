/** What the report says where translation could not be told from rotation: bounds, why, and what to change. */
import { figure, type RunDocument } from '../../run/index.js';
import { boundUp } from '../format.js';
import { axisNames, translationUnit } from '../wording.js';
import { html, type Markup } from './markup.js';

/** The note under the table of axes; null where the split holds. */
export function separationNote(run: RunDocument): Markup | null {
  const { translational, separation } = run.motion;
  const { observable, reason } = translational;
  if (observable === 'yes') return null;
  const opening =
    observable === 'no'
      ? 'Translation could not be told from rotation in this clip'
      : 'Translation was only weakly visible in this clip; take its figures as rough';
  const { unsplit } = separation;
  return html`<div class="note">
    <p>${opening}.${reason ? ` ${reason}` : null}</p>
    ${
      unsplit === null
        ? null
        : html`<p>
              What can be said: if all of it were angular, pan is below
              ${boundUp(unsplit.ifAllAngular.panDeg)}° and tilt below
              ${boundUp(unsplit.ifAllAngular.tiltDeg)}°${translationBounds(run)}. To see more next time:
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
    <p>Not reliable in this clip:</p>
    <ul>
      ${unreliable.map(({ axis, reason }) => html`<li>${names[axis].name}. ${reason}</li>`)}
    </ul>
  </div>`;
}

function translationBounds(run: RunDocument): string {
  const { unsplit } = run.motion.separation;
  const { lateral, vertical } = unsplit?.ifAllTranslation ?? { lateral: null, vertical: null };
  if (lateral === null || vertical === null) return '';
  const unit = translationUnit(run);
  return `; if all of it were translation, lateral is below ${boundUp(lateral)} and vertical below ${boundUp(vertical)} ${unit}`;
}

/** How well the two were told apart, for the section on method. */
export function separationFigures(run: RunDocument): string {
  const { parallaxP } = run.motion.translational;
  const { panLateralCorrelation: pan, tiltVerticalCorrelation: tilt } = run.motion.separation;
  const parallax =
    parallaxP === null
      ? ''
      : ` Parallax in this clip: ${figure(parallaxP)} times the expected tracking noise (3 are needed to see any, 10 to be sure).`;
  if (pan === null || tilt === null) return parallax;
  return `${parallax} The errors of pan and lateral go together by ${figure(Math.abs(pan))}, those of tilt and vertical by ${figure(Math.abs(tilt))} (0 is independent, from 0.995 on the two are not told apart).`;
}
