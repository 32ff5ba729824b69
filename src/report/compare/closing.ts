/** The closing parts of a comparison: the spreads that are assumed, warnings, the runs with their folders, method and limits. */
import { laneName } from '../../judge/index.js';
import { figure, type Comparison } from '../../run/index.js';
import { html, verbatim, type Insert, type Markup } from '../html/markup.js';
import { facts, table } from '../html/table.js';
import { spreadsLead } from './words.js';

/** What the ranges rest on beside the runs. */
export function spreadsSection({ priors }: Comparison): Markup {
  const { betweenPasses, betweenLanes, setupByLane, degrees, betweenPassesFrom, betweenLanesFrom } = priors;
  const from = { assumed: 'assumed', log: 'from the log of runs' };
  const share = (value: number): string => `${figure(100 * value)} %`;
  return html`<section aria-labelledby="spreads">
    <h2 id="spreads">What the ranges rest on</h2>
    <p><strong>${spreadsLead(priors)}</strong> ${priors.words}</p>
    ${facts([
      ['Pass to pass', `${share(betweenPasses)}, ${from[betweenPassesFrom]}`],
      ['Lane to lane', `${share(betweenLanes)}, ${from[betweenLanesFrom]}`],
      ['Setup by lane', `${share(setupByLane)}, assumed`],
      ['Weight', `each like ${figure(degrees)} repeated passes`],
    ])}
    <p class="legend">
      Standard deviations of the logarithm of the shake. The log of runs takes their place as it fills with
      passes of one setup over one lane.
    </p>
  </section>`;
}

/** What to know about these runs. */
export function comparisonWarnings({ warnings }: Comparison): Markup | null {
  if (warnings.length === 0) return null;
  return html`<section aria-labelledby="warnings">
    <h2 id="warnings">Warnings</h2>
    <ul>
      ${warnings.map(({ text }) => html`<li>${text}</li>`)}
    </ul>
  </section>`;
}

/** Which runs were compared, and where they lie. */
export function runsSection({ groups, tool, createdAt }: Comparison): Markup {
  return html`<section aria-labelledby="runs">
    <h2 id="runs">The runs</h2>
    ${table({
      caption: 'Runs and their folders',
      head: ['Clip', 'Folder', 'Group', 'Lane', 'Length', 'Measured'],
      rows: groups.flatMap(({ name, runs }) =>
        runs.map((run): Insert[] => [
          html`<span class="mono">${verbatim(run.clip)}</span>`,
          html`<span class="mono">${verbatim(run.place)}</span>`,
          name,
          laneName(run.lane),
          `${run.travelM === null ? '' : `${figure(run.travelM)} m, `}${figure(run.durationS)} s`,
          dateWords(run.createdAt),
        ]),
      ),
      wideOnly: [2, 3, 4, 5],
    })}
    <p class="legend">
      Trundle ${tool.version}${tool.commit === null ? '' : ` (${tool.commit})`}, ${dateWords(createdAt)}.
    </p>
  </section>`;
}

/** To the minute, in universal time. */
function dateWords(iso: string): string {
  return iso.replace(/^(\d{4}-\d\d-\d\d)T(\d\d:\d\d).*$/, '$1 $2 UTC');
}

/** How it was compared, and what the figures cannot say. */
export function comparisonMethod(): Markup {
  return html`<section aria-labelledby="method">
    <h2 id="method">Method and limits in brief</h2>
    <ul class="columns">
      <li>
        The figure compared is the RMS of the shake of each axis, noise taken off. Passes are averaged within
        their lane first, in the logarithm: many passes of one lane do not make several lanes.
      </li>
      <li>
        A range holds what one clip shows of itself, what passes of one setup are known to differ by, and what
        lanes differ by. It is a 95 % range of Student's t.
      </li>
      <li>
        "Clear" means that the range leaves out 1. Where it does not, nothing is said about which is smoother;
        it does not mean that both are the same.
      </li>
      <li>
        A result of one lane holds for that lane. It reaches other floors only when both setups were rolled
        over several lanes.
      </li>
      <li>Passes buy far more than seconds: repeat a pass rather than lengthen it.</li>
      <li>Roll in the order A B B A, so that warm-up and dirt fall on both.</li>
      <li>
        Crop is an extreme of the run and grows with its length, so it is told as a cost for takes of one
        length, on one lens.
      </li>
    </ul>
  </section>`;
}
