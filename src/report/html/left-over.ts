/** What stabilising leaves, cause by cause, in px of the delivery and minutes of arc from where it is watched. */
import {
  figure,
  figureBeside,
  limitFigure,
  type RunDocument,
  type StabiliseSection,
} from '../../run/index.js';
import { viewingDistanceHeights } from '../../stabilise/index.js';
import type { ReportBundle } from '../types.js';
import { html, type Insert, type Markup } from './markup.js';
import { table } from './table.js';

type Left = NonNullable<StabiliseSection['residual']['total']>;

/** The section on what is left. */
export function leftOverSection({ run }: ReportBundle): Markup {
  const { residual, recommended, rowsCorrected } = run.stabilise;
  const { causes, viewing } = residual;
  return html`<section aria-labelledby="left-over">
    <h2 id="left-over">What stays after stabilising</h2>
    <p>${inOneSentence(run)}</p>
    ${table({
      caption: 'Shake left, by cause, at delivery size',
      head: ['Cause', 'RMS', '95th percentile', 'RMS, seen', 'What it is'],
      rows: [
        row(
          'Translation',
          causes.translation,
          'the camera was shifted: no turn of the picture removes it',
          residual.atMost,
        ),
        row(
          'of it parallax',
          causes.parallax,
          'near against far; a shift of the whole picture leaves it, too',
          residual.atMost,
        ),
        row('Path', causes.path, 'angular shake that the chosen path still follows'),
        row(
          'Rolling shutter',
          causes.readout,
          causes.readout === null
            ? 'bend within the frame; not known without the readout time'
            : rowsCorrected
              ? `bend within the frame, rows corrected; a stabiliser that turns whole frames leaves ${px(causes.readoutWholeFrames)}`
              : 'bend within the frame; all rows of this sensor are read at once',
        ),
        row(
          'Measuring',
          causes.tracking,
          'noise of the measured angles, which stabilising writes into the picture',
        ),
        row('All together', residual.total, 'root of the sum of squares', residual.atMost),
      ],
      numeric: [1, 2, 3],
      wideOnly: [2, 3],
    })}
    <p>
      ${blur(causes.blur, recommended.shutterAngleDeg)} Seen from ${figure(viewing.distanceHeights)} picture
      heights, one pixel of the delivery is ${viewing.arcMinPerPx.toFixed(2)} minutes of
      arc${isDesignDistance(run) ? ' (design viewing distance of ITU-R BT.2022)' : ''}.
    </p>
  </section>`;
}

function isDesignDistance({ delivery }: RunDocument): boolean {
  return delivery.viewingDistanceHeights === viewingDistanceHeights(delivery);
}

function inOneSentence({ stabilise, delivery }: RunDocument): string {
  const { rmsPx, p95Px, atMost } = stabilise.residual;
  if (rmsPx === null)
    return 'How much stays is not known, for this clip cannot tell translation from rotation.';
  const limit = `limit ${limitFigure(delivery.maxResidualPx)} px`;
  const worst = p95Px === null ? '' : `; 19 of 20 frames stay below ${figure(p95Px)} px`;
  return `${atMost ? 'At most ' : ''}${figureBeside(rmsPx, delivery.maxResidualPx)} px RMS of shake stay at delivery size (${limit})${worst}.`;
}

function row(name: string, left: Left | null, meaning: string, atMost = false): Insert[] {
  if (left === null) return [name, 'not known', '–', '–', meaning];
  const most = atMost ? 'at most ' : '';
  return [
    name,
    `${most}${px(left)}`,
    left.p95Px === null ? '–' : `${small(left.p95Px)} px`,
    `${small(left.arcMinRms)}′`,
    meaning,
  ];
}

function px(left: Left | null): string {
  return left === null ? 'not known' : `${small(left.rmsPx)} px`;
}

/** Hundredths of a pixel are the last that mean anything. */
function small(value: number): string {
  return value < 0.01 ? '< 0.01' : figure(value);
}

function blur(left: StabiliseSection['residual']['causes']['blur'], shutterAngleDeg: number | null): string {
  if (left === null) return 'How motion blur pulses is not known.';
  const now = `The length of motion blur swings by ${small(left.pulsePx)} px from frame to frame while the stabilised picture stands still`;
  if (shutterAngleDeg === null) return `${now}: too little to be seen as pulsing sharpness.`;
  return shutterAngleDeg <= 1
    ? `${now}, so its sharpness pulses; no shutter is short enough against that.`
    : `${now}, so its sharpness pulses; a shutter of ${shutterAngleDeg}° or less would keep it too small to be seen.`;
}
