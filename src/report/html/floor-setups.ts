/** What this floor would do to other setups, and what another measured surface would do to this one. */
import { figure, type SurfacePrediction, type SurfaceSection } from '../../run/index.js';
import { floorSetupTexts as texts } from '../../texts/index.js';
import { html, type Insert, type Markup } from './markup.js';
import { table } from './table.js';

/** The table of predictions; nothing when there is none. */
export function setupTable({ predictions }: SurfaceSection): Markup | null {
  if (predictions.length === 0) return null;
  return html`<h3>${texts.heading}</h3>
    ${table({
      caption: texts.caption,
      head: texts.heads,
      rows: predictions.map(row),
      numeric: [1, 2, 3, 4, 5],
      wideOnly: [3, 4, 5, 6],
    })}
    <p class="legend">${texts.note}</p>`;
}

function row(prediction: SurfacePrediction): Insert[] {
  const { label, pitchMdegRms, rollMdegRms, shakePxRms, ratio, largestKickPx, assumes, reason } = prediction;
  return [
    // A focal length is in millimetres in every system of units: see `lensMm`.
    prediction.change === 'lens' ? label.replace(/ mm$/, '\u202fmm') : label,
    prediction.change === 'none' ? texts.now : ranged(ratio, '×'),
    ranged(shakePxRms, ''),
    ranged(pitchMdegRms, ''),
    ranged(rollMdegRms, ''),
    largestKickPx === null ? '–' : `${figure(largestKickPx)} px`,
    reason ?? assumes,
  ];
}

function ranged(value: SurfacePrediction['ratio'], before: string): string {
  if (value === null) return '–';
  return texts.ranged(`${before}${figure(value.value)}`, figure(value.low), figure(value.high));
}
