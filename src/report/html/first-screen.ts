/** The first screen of the report: verdict with measured value and limit, four figures, what to do first, a frame with its crop window. */
import type { RunDocument } from '../../run/index.js';
import { firstScreenTexts } from '../../texts/index.js';
import { shakesMost } from '../cause-words.js';
import { verdictBadge } from '../charts/index.js';
import { keyFigures } from '../key-figures.js';
import { passesLikeTest, reservations } from '../reservations.js';
import type { ReportBundle } from '../types.js';
import { headline } from '../wording.js';
import { firstStep, otherSteps } from './advice.js';
import { frameFigure } from './frame-figure.js';
import { html, trusted, type Markup } from './markup.js';

/** The first screen. @param pictureUri the frame as a data URI, null when there is none */
export function firstScreen(bundle: ReportBundle, pictureUri: string | null): Markup {
  const { run } = bundle;
  const { word, sentence } = headline(run);
  const { grade } = run.verdict;
  return html`<section class="first" aria-labelledby="verdict">
    <div class="verdict ${grade}">
      <h1 id="verdict">
        <span class="mark" aria-hidden="true">${trusted(verdictBadge(grade))}</span
        ><span class="word">${word}</span> <span class="sentence">${sentence}</span>
      </h1>
      ${reservations(run).map(
        ([name, text]) => html`<p class="reservation"><span class="word">${name}:</span> ${text}</p>`,
      )}
    </div>
    ${grade === 'unmeasurable' ? null : figures(run)} ${doFirst(run)} ${frameFigure(bundle, pictureUri)}
    ${doMore(run)}
  </section>`;
}

/** What to do first, with what it passes for; null where there is no advice. */
function doFirst(run: RunDocument): Markup | null {
  const first = firstStep(run);
  return first === null
    ? null
    : html`<div class="advice do-first">${first} ${passesNote(run, 'first')}</div>`;
}

/** What else can be done, and what shakes most. */
export function doMore(run: RunDocument): Markup {
  return html`<div class="advice do-more">
    ${otherSteps(run)} ${passesNote(run, 'others')} ${source(run)}
  </div>`;
}

/** What a step that passes passes for, at the first of them. */
function passesNote(run: RunDocument, beside: 'first' | 'others'): Markup | null {
  return passesLikeTest(run) === beside
    ? html`<p class="legend">${firstScreenTexts.passesLikeTest}</p>`
    : null;
}

/** What shakes most, in one line. */
function source(run: RunDocument): Markup | null {
  const most = run.verdict.grade === 'unmeasurable' ? null : shakesMost(run);
  return most === null ? null : html`<p class="muted">${firstScreenTexts.shakesMost(most)}</p>`;
}

function figures(run: RunDocument): Markup {
  return html`<dl class="figures">
    ${keyFigures(run).map(
      ({ name, value, unit, remark }) =>
        html`<div>
          <dt>${name}</dt>
          <dd>
            <span class="value">${value}</span>
            ${unit === '' ? null : html`<span class="unit">${unit}</span>`}
            <span class="remark">${remark}</span>
          </dd>
        </div>`,
    )}
  </dl>`;
}
