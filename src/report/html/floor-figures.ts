/** The floor for engineers, folded away on a screen and open on paper: figures in short, waves, grades of standards, other setups. */
import { figure, type SurfaceSection } from '../../run/index.js';
import { classInWords, floorTexts as texts } from '../../texts/index.js';
import { scientific } from '../format.js';
import type { ReportBundle } from '../types.js';
import { wavesData } from './floor-chart-data.js';
import { gradeTable } from './floor-grades.js';
import { setupTable } from './floor-setups.js';
import { wavesTable } from './floor-tables.js';
import { liveFigure } from './live-figure.js';
import { html, type Insert, type Markup } from './markup.js';
import { facts } from './table.js';

/** Width of the drawing of the waves, px; it fits a phone, too. */
const WAVES_PX = 400;

/** The folded part. */
export function forEngineers(bundle: ReportBundle): Markup {
  const { surface } = bundle.run;
  return html`<details class="paper-open">
    <summary>${texts.engineers}</summary>
    <div class="side">
      ${waves(bundle)}
      <div>${facts(inShort(surface))}</div>
    </div>
    ${gradeTable(surface)} ${setupTable(surface)}
  </details>`;
}

function waves(bundle: ReportBundle): Markup | null {
  const data = wavesData(bundle);
  if (data === null) return null;
  return liveFigure({
    kind: 'wavelengths',
    data,
    caption: html`<b>${texts.wavesCaption}</b> ${texts.wavesBands}`,
    widthPx: WAVES_PX,
    after: html`<p class="legend">${texts.wavesLegend}</p>
      ${wavesTable(data)}`,
  });
}

function inShort(surface: SurfaceSection): [string, Insert][] {
  const { inShort: words } = texts;
  const { atMost, atLeast, psdAt01CyclesPerM, psdCi95, psdAsRolled, wavelengthsM, spoken } = surface;
  const { profileRmsMm, waviness, wavinessCi95, bumps } = surface;
  const bound = atMost ? 'most' : atLeast ? 'least' : null;
  const range = psdCi95 && ([scientific(psdCi95[0]), scientific(psdCi95[1])] as const);
  const slopes = wavinessCi95 && ([figure(wavinessCi95[0]), figure(wavinessCi95[1])] as const);
  const lines: readonly (readonly [string, string] | null)[] = [
    spoken && [words.word, words.ownWord(spoken.word, spoken.orBetter)],
    [words.class, words.classWords(classInWords(surface))],
    wavelengthsM && [words.waves, words.wavesWords(figure(wavelengthsM[0]), figure(wavelengthsM[1]))],
    profileRmsMm === null ? null : [words.height, words.heightWords(figure(profileRmsMm))],
    psdAt01CyclesPerM === null
      ? null
      : [
          words.roughness,
          words.roughnessWords(scientific(psdAt01CyclesPerM), bound, range, bumps.length > 0),
        ],
    psdAsRolled === null ? null : [words.asRolled, words.asRolledWords(scientific(psdAsRolled))],
    waviness === null ? null : [words.slope, words.slopeWords(figure(waviness), slopes)],
  ];
  return lines.flatMap((line): [string, Insert][] => (line === null ? [] : [[line[0], line[1]]]));
}
