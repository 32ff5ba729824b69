/** The same shake on other lenses and at other speeds, and the figures that papers on stabilisation compare by. */
import { figure, percentFigure, type RunDocument, type StabiliseSection } from '../../run/index.js';
import { html, type Insert, type Markup } from './markup.js';
import { table } from './table.js';

/** What if: folded away, after the figures of this pass. */
export function whatIfPart(run: RunDocument): Markup {
  const { whatIf, steadiness } = run.stabilise;
  return html`<details>
      <summary>Another lens, another speed</summary>
      ${focalTable(whatIf)}
      <p class="legend">${whatIf.focalAssumes}</p>
      ${speedTable(whatIf)}
      <p class="legend">
        One pass cannot tell how much of the shake comes from the floor (it grows faster with the speed) and
        how much from the machine (it keeps its frequency): both extremes are given.
        ${whatIf.speed.find(({ factor }) => factor === 1)?.assumes ?? ''} Slower, ripples too short for the
        test pass are missing; faster, the stretch is over sooner.${refusals(whatIf)}
      </p>
    </details>
    <details>
      <summary>Figures by which papers compare stabilised clips</summary>
      ${steadinessTable(steadiness)}
      <p class="legend">
        After Liu, Yuan, Tan and Sun 2013 (definitions from memory). Cropping: side of the picture kept,
        linear, mean over the frames (area beside it). Distortion: ratio of the eigenvalues of the affine
        part, least over the frames. Stability: share of the path's energy in the 2nd to 6th lowest
        frequencies, the lesser of shift and turn.
      </p>
    </details>`;
}

function focalTable({ focal }: StabiliseSection['whatIf']): Markup {
  return table({
    caption: 'The same shake on another lens',
    head: ['Lens', 'Crop', 'Shake left, RMS'],
    rows: focal.map(({ factor, focalLengthMm, used, cropPercent, coverable, residualPx }): Insert[] => [
      `${focalLengthMm === null ? `${figure(factor)} x` : `${figure(focalLengthMm)} mm`}${used ? ' (used)' : ''}`,
      crop(cropPercent, coverable),
      residualPx === null || !coverable ? '–' : `${figure(residualPx)} px`,
    ]),
    numeric: [1, 2],
  });
}

const REFUSED: Record<NonNullable<StabiliseSection['whatIf']['speed'][number]['refused']>, string> = {
  tooShort: 'the stretch would pass too quickly to tell the move from the shake',
  tooSlow: 'the pass holds nothing at frequencies that high',
};

function speedTable({ speed }: StabiliseSection['whatIf']): Markup {
  return table({
    caption: 'The same stretch at another speed',
    head: ['Speed', 'Crop, all from the floor', 'Crop, all from the machine', 'Shake left, RMS'],
    rows: speed.map(({ factor, speedMps, allFloor, allMachine, refused }): Insert[] => {
      const name = `${speedMps === null ? `${figure(factor)} x` : `${figure(speedMps)} m/s`}${factor === 1 ? ' (used)' : ''}`;
      if (refused !== null || allFloor === null || allMachine === null) return [name, '–', '–', '–'];
      return [
        name,
        crop(allFloor.cropPercent, allFloor.coverable),
        crop(allMachine.cropPercent, allMachine.coverable),
        range(allFloor.residualPx, allMachine.residualPx),
      ];
    }),
    numeric: [1, 2, 3],
  });
}

function refusals({ speed }: StabiliseSection['whatIf']): string {
  const whys = new Set(speed.flatMap(({ refused }) => (refused === null ? [] : [REFUSED[refused]])));
  return whys.size === 0 ? '' : ` A dash: ${[...whys].join('; ')}.`;
}

function crop(percent: number, coverable: boolean): string {
  return coverable ? `${percentFigure(percent)} %` : 'more than half';
}

function range(a: number | null, b: number | null): string {
  if (a === null || b === null) return '–';
  const [low, high] = [figure(Math.min(a, b)), figure(Math.max(a, b))];
  return low === high ? `${low} px` : `${low} to ${high} px`;
}

function steadinessTable({ before, after }: StabiliseSection['steadiness']): Markup {
  const two = (value: number): string => value.toFixed(3);
  return table({
    caption: 'Cropping, distortion, stability',
    head: ['Clip', 'Cropping (area)', 'Distortion', 'Stability'],
    rows: [
      ['As shot', '1 (1)', two(before.distortion), two(before.stability)],
      [
        'Stabilised',
        `${two(after.croppingLinear)} (${two(after.croppingArea)})`,
        two(after.distortion),
        two(after.stability),
      ],
    ],
    numeric: [1, 2, 3],
  });
}
