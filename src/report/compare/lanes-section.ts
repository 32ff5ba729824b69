/** The lanes of a floor: the plan, drawn once for a phone and once for wider pages, what it says in words, and its figures. */
import { laneName } from '../../judge/index.js';
import { figure, type Comparison, type LanePlan, type Units } from '../../run/index.js';
import { figureTexts, lanePlanTexts } from '../../texts/index.js';
import { lanePlanChart, laneReachM, stretchWords } from '../charts/index.js';
import { html, trusted, type Insert, type Markup } from '../html/markup.js';
import { table } from '../html/table.js';

const PHONE_PX = 360;
const DESK_PX = 720;

/** The section; nothing without a plan. @param units of the drawing */
export function lanesSection({ lanePlan, sentence }: Comparison, units: Units): Markup | null {
  if (lanePlan === null || lanePlan.lanes.length === 0) return null;
  const plan = withLaneNames(lanePlan);
  const { floor, setup, best, avoid, lanes } = plan;
  const about = [
    floor === null ? null : lanePlanTexts.floor(floor),
    setup === null ? null : lanePlanTexts.setup(setup),
  ].filter((part) => part !== null);
  // What the page says at its top needs no second time.
  const says = [best.sentence, avoid].filter((text) => text !== null && text !== sentence);
  const label = planLabel(plan);
  const drawn = (widthPx: number, id: string): Markup =>
    trusted(lanePlanChart(plan, { widthPx, label, id, units }));
  return html`<section aria-labelledby="lanes">
    <h2 id="lanes">${lanePlanTexts.heading}</h2>
    ${says.length === 0 ? null : html`<p>${says.join(' ')}</p>`}
    <figure class="lanes">
      <div class="for-desk">${drawn(DESK_PX, 'lanes-desk')}</div>
      <div class="for-phone">${drawn(PHONE_PX, 'lanes-phone')}</div>
      <figcaption>
        ${about.length === 0 ? null : `${about.join(' ')} `}${lanePlanTexts.legend}${
          lanes.some((lane) => laneReachM(lane) > lane.lengthM) ? ` ${lanePlanTexts.beyondEnd}` : null
        }
      </figcaption>
    </figure>
    ${table({
      caption: lanePlanTexts.table,
      head: lanePlanTexts.heads,
      rows: byRank(lanes).map(({ name, shakePx, lengthM, joints, avoid: stretches }): Insert[] => [
        name,
        html`${figure(shakePx.value)}<span class="sub"
            >${figureTexts.range(figure(shakePx.low), figure(shakePx.high))}</span
          >`,
        plan.metric ? lanePlanTexts.metres(figure(lengthM)) : lanePlanTexts.lengthUnknown,
        joints.length,
        stretches.length === 0
          ? lanePlanTexts.keepNothingOff
          : stretches.map((stretch) => stretchWords(stretch, plan.metric)).join('; '),
        stretches.length === 0
          ? lanePlanTexts.none
          : stretches.map(({ timesUsual }) => lanePlanTexts.timesUsual(figure(timesUsual))).join('; '),
      ]),
      numeric: [1, 2, 3],
      wideOnly: [2, 3, 5],
    })}
  </section>`;
}

/** The plan with lanes as they are spoken of: "lane 2" where the crew wrote "2". */
export function withLaneNames(plan: LanePlan): LanePlan {
  const { lanes, best } = plan;
  return {
    ...plan,
    lanes: lanes.map((lane) => ({ ...lane, name: laneName(lane.name) })),
    best: { ...best, lane: best.lane === null ? null : laneName(best.lane) },
  };
}

/** Lanes from the smoothest on. */
export function byRank(lanes: LanePlan['lanes']): LanePlan['lanes'] {
  return [...lanes].sort((a, b) => a.rank - b.rank);
}

function planLabel({ lanes, best, metric }: LanePlan): string {
  const each = byRank(lanes).map(({ name, shakePx, avoid }) =>
    lanePlanTexts.laneTold(
      name,
      figure(shakePx.value),
      avoid.map((stretch) => lanePlanTexts.keepOff(stretchWords(stretch, metric))),
    ),
  );
  return lanePlanTexts.planLabel(best.lane, each);
}
