/** The closing parts of the report: method and limits in brief, the published sources, and the cautions for people. */
import type { RunDocument } from '../../run/index.js';
import { methodTexts, type SourceWords } from '../../texts/index.js';
import { html, type Markup } from './markup.js';
import { separationFigures } from './separation.js';

/** How it was measured, what the figures cannot say, and what they stand on. */
export function methodSection(run: RunDocument): Markup {
  const { motion, spectrum } = run;
  const points = [
    `${methodTexts.points}${separationFigures(run)}`,
    methodTexts.split(motion.bandHz[0]),
    methodTexts.ranges,
    motion.translational.unit === 'mm' ? methodTexts.metric : methodTexts.relative,
    methodTexts.crop,
    methodTexts.sampling(Math.round(2 * spectrum.nyquistHz), Math.round(10 * spectrum.nyquistHz) / 10),
    methodTexts.oneSample,
    methodTexts.guidance,
  ];
  return html`<section aria-labelledby="method">
    <h2 id="method">${methodTexts.heading}</h2>
    <h3>${methodTexts.inBrief}</h3>
    <ul class="columns">
      ${points.map((text) => html`<li>${text}</li>`)}
    </ul>
    <h3>${methodTexts.sources}</h3>
    <p class="legend">${methodTexts.sourcesSentence}</p>
    <div class="columns sources">
      ${sourceList(methodTexts.standards, methodTexts.standardList)}
      ${sourceList(methodTexts.papers, methodTexts.paperList)}
    </div>
  </section>`;
}

function sourceList(heading: string, sources: readonly SourceWords[]): Markup {
  return html`<ul aria-label="${heading}">
    ${sources.map(
      ({ name, serves, fromMemory }) =>
        html`<li>
          <b>${name}</b>:
          ${serves}${fromMemory ? html` <abbr title="${methodTexts.memory}">${methodTexts.memoryMark}</abbr>` : null}
        </li>`,
    )}
  </ul>`;
}

/** The cautions for people, in own words. */
export function cautionsSection(): Markup {
  return html`<section class="cautions" aria-labelledby="cautions">
    <h2 id="cautions">${methodTexts.cautions}</h2>
    <div class="columns">
      <p>${methodTexts.beforeThePass}</p>
      <p>${methodTexts.noStatement}</p>
    </div>
  </section>`;
}
