/** The floor or rail: what it is and what to do about it, the run from above, bumps worst first, its profile, and figures for engineers. */
import { figure, type RunDocument } from '../../run/index.js';
import { floorTexts as texts, placeInWords } from '../../texts/index.js';
import type { ReportBundle } from '../types.js';
import { bumpTable } from './floor-bumps.js';
import { NUMBERED, profileData, stripData } from './floor-chart-data.js';
import { forEngineers } from './floor-figures.js';
import { hitsSentence } from './floor-hits.js';
import { floorLead, notGraded } from './floor-lead.js';
import { profileTable } from './floor-tables.js';
import { liveFigure } from './live-figure.js';
import { html, type Markup } from './markup.js';

/** Widths of the drawings, px: desk and phone. */
const DESK_PX = 1080;
const PHONE_PX = 360;

/** The section on the surface. */
export function floorSection(bundle: ReportBundle): Markup {
  const { run } = bundle;
  const { surface } = run;
  const heading = html`<h2 id="floor">${texts.heading}</h2>`;
  if (!surface.observable)
    return html`<section aria-labelledby="floor">
      ${heading}
      <p>${notGraded(run)}</p>
    </section>`;
  const hits = hitsSentence(bundle);
  return html`<section aria-labelledby="floor">
    ${heading}
    <p>${floorLead(run)}</p>
    ${surface.reason === null ? null : html`<p>${surface.reason}</p>`} ${strip(bundle)}
    ${surface.bumps.length === 0 ? null : bumpTable(bundle)} ${hits === null ? null : html`<p>${hits}</p>`}
    ${rowOf(run)} ${profileFigure(bundle)} ${forEngineers(bundle)}
    <p class="legend">${texts.steadinessOnly}</p>
  </section>`;
}

function strip(bundle: ReportBundle): Markup | null {
  const data = stripData(bundle);
  if (data === null) return null;
  return liveFigure({
    kind: 'floorStrip',
    data,
    caption: html`<b>${texts.stripCaption}</b>
      ${data.bumps.length === 0 ? texts.stripOfSmooth : texts.stripFor}`,
    widthPx: DESK_PX,
    phoneWidthPx: PHONE_PX,
    after: legend(
      data.bumps.length === 0 ? null : texts.stripNumbers(Math.min(NUMBERED, data.bumps.length)),
      data.distanceM.length > 0 ? null : texts.stripNoHeights,
    ),
  });
}

/** Small print of what is there; nothing when nothing is. */
function legend(...sentences: readonly (string | null)[]): Markup | null {
  const said = sentences.filter((sentence) => sentence !== null);
  return said.length === 0 ? null : html`<p class="legend">${said.join(' ')}</p>`;
}

/** The row of joints, and how far distances can be trusted. */
function rowOf({ surface: { joints, bumps, distanceRangePercent: percent } }: RunDocument): Markup | null {
  if (bumps.length === 0) return null;
  const row =
    joints === null
      ? []
      : [
          texts.row(
            joints.count,
            `${joints.spacingM.toFixed(3)} m`,
            `${figure(1000 * joints.spacingRangeM)} mm`,
            placeInWords(joints.firstM, 0.01),
            `${figure(joints.stepRmsMm)} mm`,
          ),
          texts.rowSeen(joints.seen, joints.count),
        ];
  const scale = percent === null ? [] : [texts.distances(figure(percent), `${figure(10 * percent)} mm`)];
  return row.length + scale.length === 0 ? null : html`<p class="legend">${[...row, ...scale].join(' ')}</p>`;
}

function profileFigure(bundle: ReportBundle): Markup | null {
  const { profileRmsMm, wavelengthsM } = bundle.run.surface;
  const data = profileData(bundle);
  if (data === null) return null;
  const { heightMm } = data.lines[0];
  const rise = Math.max(...heightMm) - Math.min(...heightMm);
  const rms = profileRmsMm === null ? null : `${figure(profileRmsMm)} mm`;
  return liveFigure({
    kind: 'profile',
    data,
    caption: html`<b>${texts.profileCaption}</b>
      ${texts.profileHere(`${figure(rise)} mm`, rms, data.bumps.length > 0)}`,
    widthPx: DESK_PX,
    phoneWidthPx: PHONE_PX,
    after: html`${
      wavelengthsM === null
        ? null
        : html`<p class="legend">
            ${texts.profileWaves(`${figure(wavelengthsM[0])} m`, `${figure(wavelengthsM[1])} m`)}
          </p>`
    }${profileTable(data)}`,
  });
}
