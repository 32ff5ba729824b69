/** What this floor would do to other setups, and what another measured surface would do to this one. */
import { figure, type SurfacePrediction, type SurfaceSection } from '../../run/index.js';
import { html, type Insert, type Markup } from './markup.js';
import { table } from './table.js';

/** The table of predictions; nothing when there is none. */
export function setupTable({ predictions }: SurfaceSection): Markup | null {
  if (predictions.length === 0) return null;
  return html`<h3>The same floor under another setup</h3>
    ${table({
      caption: 'Shake that this floor makes, predicted from its roughness, joints and bumps',
      head: [
        'Setup',
        'Against now',
        'Picture, px RMS',
        'Pitch, mdeg',
        'Roll, mdeg',
        'Largest kick by turning alone',
        'Takes for granted',
      ],
      rows: predictions.map(row),
      numeric: [1, 2, 3, 4, 5],
      wideOnly: [3, 4, 6],
    })}
    <p class="legend">
      Raw shake at the corners of the delivery before stabilising, RMS from 0.8 Hz to half the frame rate; 95
      % ranges. Pitch and roll are the deck's, which the camera shows as tilt and roll only when it looks
      ahead. "Against now" is the shake over that of this pass; kicks count by turning alone, without the
      parallax of the list above.
    </p>`;
}

function row(prediction: SurfacePrediction): Insert[] {
  const { label, pitchMdegRms, rollMdegRms, shakePxRms, ratio, largestKickPx, assumes, reason } = prediction;
  return [
    label,
    prediction.change === 'none' ? 'now' : ranged(ratio, '×'),
    ranged(shakePxRms, ''),
    ranged(pitchMdegRms, ''),
    ranged(rollMdegRms, ''),
    largestKickPx === null ? '–' : `${figure(largestKickPx)} px`,
    reason ?? assumes,
  ];
}

function ranged(value: SurfacePrediction['ratio'], before: string): string {
  if (value === null) return '–';
  return `${before}${figure(value.value)} (${figure(value.low)} to ${figure(value.high)})`;
}
