/** The closing parts of a comparison: the spreads that are assumed, warnings, the runs with their folders, method and limits. */
import { laneName } from '../../judge/index.js';
import { figure, type Comparison } from '../../run/index.js';
import { compareTexts } from '../../texts/index.js';
import { html, verbatim, type Insert, type Markup } from '../html/markup.js';
import { facts, table } from '../html/table.js';
import { spreadsLead } from './words.js';

/** What the ranges rest on beside the runs. */
export function spreadsSection({ priors }: Comparison): Markup {
  const { betweenPasses, betweenLanes, setupByLane, degrees, betweenPassesFrom, betweenLanesFrom } = priors;
  const { spreadFrom: from, spreadNames: names, weight } = compareTexts;
  const spread = (value: number, source: 'assumed' | 'log'): string =>
    compareTexts.spread(figure(100 * value), from[source]);
  return html`<section aria-labelledby="spreads">
    <h2 id="spreads">${compareTexts.spreads}</h2>
    <p><strong>${spreadsLead(priors)}</strong> ${priors.words}</p>
    ${facts([
      [names.passes, spread(betweenPasses, betweenPassesFrom)],
      [names.lanes, spread(betweenLanes, betweenLanesFrom)],
      [names.setupByLane, spread(setupByLane, 'assumed')],
      [names.weight, weight(figure(degrees))],
    ])}
    <p class="legend">${compareTexts.spreadsLegend}</p>
  </section>`;
}

/** What to know about these runs. */
export function comparisonWarnings({ warnings }: Comparison): Markup | null {
  if (warnings.length === 0) return null;
  return html`<section aria-labelledby="warnings">
    <h2 id="warnings">${compareTexts.warnings}</h2>
    <ul class="warnings">
      ${warnings.map(({ text }) => html`<li>${text}</li>`)}
    </ul>
  </section>`;
}

/** Which runs were compared, and where they lie. */
export function runsSection({ groups, tool, createdAt }: Comparison): Markup {
  const runs = groups.flatMap((group) => group.runs);
  return html`<section aria-labelledby="runs">
    <h2 id="runs">${compareTexts.runsHeading}</h2>
    <p>${compareTexts.runsLead(runs.length, groups.length, new Set(runs.map(({ lane }) => lane)).size)}</p>
    ${table({
      caption: compareTexts.runsTable,
      head: compareTexts.runsHeads,
      rows: groups.flatMap(({ name, runs: ofGroup }) =>
        ofGroup.map((run): Insert[] => [
          html`<span class="mono">${verbatim(run.clip)}</span>`,
          html`<span class="mono">${verbatim(run.place)}</span>`,
          name,
          laneName(run.lane),
          compareTexts.length(run.travelM === null ? null : figure(run.travelM), figure(run.durationS)),
          compareTexts.date(run.createdAt),
        ]),
      ),
      wideOnly: [2, 3, 4, 5],
    })}
    <p class="legend">${compareTexts.madeBy(tool.version, tool.commit, compareTexts.date(createdAt))}</p>
  </section>`;
}

/** How it was compared, and what the figures cannot say. */
export function comparisonMethod(): Markup {
  return html`<section aria-labelledby="method">
    <h2 id="method">${compareTexts.method}</h2>
    <ul class="columns">
      ${compareTexts.methodPoints.map((text) => html`<li>${text}</li>`)}
    </ul>
  </section>`;
}
