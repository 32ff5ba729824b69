/** What was taken because it was not given, with how much it matters, and the warnings of the run. */
import { figure, type Assumption, type RunDocument } from '../../run/index.js';
import { setupTexts } from '../../texts/index.js';
import { html, type Insert, type Markup } from './markup.js';
import { table } from './table.js';
import { timecodeAt } from '../charts/index.js';

/** The section on assumptions and warnings. */
export function assumedSection(run: RunDocument): Markup {
  const { assumed } = run.rig;
  return html`<section aria-labelledby="assumed">
    <h2 id="assumed">${setupTexts.assumed}</h2>
    <p class="lead">
      ${assumed.length === 0 ? setupTexts.nothingAssumed : setupTexts.assumedSentence(assumed.length)}
      ${run.warnings.length === 0 ? setupTexts.noWarnings : null}
    </p>
    ${
      assumed.length === 0
        ? null
        : table({
            caption: setupTexts.assumedCaption,
            head: setupTexts.assumedHeads,
            rows: [...assumed].sort((a, b) => weight(a) - weight(b)).map(assumedRow),
          })
    }
    ${run.warnings.length === 0 ? null : warningList(run)}
  </section>`;
}

/** Place in the list of inputs, those that decide most first; names that it does not have come last. */
function weight({ name }: Assumption): number {
  const at = setupTexts.inputs.findIndex(({ key }) => key === name);
  return at < 0 ? setupTexts.inputs.length : at;
}

function assumedRow({ name, value, matters }: Assumption): Insert[] {
  const known = setupTexts.inputs.find(({ key }) => key === name);
  if (known === undefined) return [name, value, matters];
  const { inRigFile, ofLens } = known;
  const entry =
    inRigFile === null
      ? null
      : html`<code class="sub" title="${setupTexts.inRigFile(inRigFile)}">${breakable(inRigFile)}</code>`;
  return [html`${known.name}${entry}`, ofLens ? lensUnits(value) : value, matters];
}

/** A name of several words in one, which may be broken between them. */
function breakable(name: string): Markup {
  return html`${name.split(/(?<=[a-z])(?=[A-Z])/).map((word, i) => (i === 0 ? word : html`<wbr />${word}`))}`;
}

/** Joins millimetres to their number by the space that is not converted, U+202F. */
function lensUnits(value: string): string {
  return value.replace(/(\d) mm\b/g, '$1\u202fmm');
}

function warningList({ clip, warnings }: RunDocument): Markup {
  return html`<h3>${setupTexts.warnings}</h3>
    <ul class="warnings">
      ${warnings.map(
        ({ text, atS }) =>
          html`<li>
            ${atS === null ? null : html`<span class="at">${setupTexts.warningAt(timecodeAt(clip, atS), figure(atS))}</span>`}
            ${text}
          </li>`,
      )}
    </ul>`;
}
