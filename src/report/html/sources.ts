/** What shakes: one row for each source, what shifts the picture most first, with what else is known of it. */
import { isAngular, figure, type Peak, type RunDocument, type ShakeSourceSection } from '../../run/index.js';
import {
  axesInWords,
  frequency,
  lookFirst,
  sourceDetails,
  sourceName,
  sourceRemarks,
  sureness,
} from '../cause-words.js';
import { withUnit } from '../format.js';
import { axisNames } from '../wording.js';
import { html, type Insert, type Markup } from './markup.js';
import { behind, table, type TableData } from './table.js';

/** Sources that stand open; the rest is folded away. */
const OPEN = 12;
/** Below this share through the shutter the motion itself is told beside what was seen. */
const HIDES_SOME = 0.95;

/** The table of sources, or a sentence where there is none. */
export function sourceTable(run: RunDocument): Markup {
  const { sources } = run.spectrum;
  if (sources.length === 0)
    return html`<p>
      No peak stands clear of what the floor and the noise show anyway: the shake is spread over all
      frequencies.
    </p>`;
  const rows = sources.map((source, i): Insert[] => [
    i + 1,
    whatCell(source, run),
    html`${source.freqHz.toFixed(2)} Hz<span class="sub"
        >± ${figure((source.ci95Hz[1] - source.ci95Hz[0]) / 2)} Hz</span
      >`,
    axesInWords(source, run),
    sizeCell(i, run),
    sureness(source),
    lookFirst(source, run),
  ]);
  const data = (caption: string, some: typeof rows): TableData => ({
    caption,
    head: ['No.', 'What', 'Frequency', 'On', 'Picture shifts, RMS', 'Sure', 'Do first'],
    rows: some,
    numeric: [2, 4, 5],
    wideOnly: [3, 6],
  });
  const rest = rows.slice(OPEN);
  return html`${table(data('What shakes, most first', rows.slice(0, OPEN)))}
  ${rest.length === 0 ? null : behind(data(`the other ${rest.length} sources`, rest))} ${detailTable(run)}
  ${peakTable(run)}`;
}

/** On a phone what to do stands here, for want of a column of its own. */
function whatCell(source: ShakeSourceSection, run: RunDocument): Markup {
  const remarks = sourceRemarks(source, run).map((remark) => html`<span class="sub">${remark}</span>`);
  return html`<strong>${sourceName(source, run)}</strong
    ><span class="narrow">${lookFirst(source, run)}</span>${remarks}`;
}

/** Shift in px of the clip, and below it the RMS on the axis that shows it most: as seen, and of the motion itself. */
function sizeCell(at: number, run: RunDocument): Markup {
  const { sources, peaks } = run.spectrum;
  const source = sources[at];
  const seen = peaks.find(({ source: of, axis }) => of === at && axis === source.trueRmsAxis);
  const name = axisNames(run)[source.trueRmsAxis].name.toLowerCase();
  const hides = source.exposureGain < HIDES_SOME && source.cause !== 'lamp';
  return html`${figure(source.shiftPx)}
  px${
    seen === undefined
      ? null
      : html`<span class="sub">${name} ${withUnit(figure(seen.rms), printedUnit(seen))}</span>`
  }${
    hides
      ? html`<span class="sub"
          >motion itself
          ${source.trueRms === null ? 'not known' : withUnit(figure(source.trueRms), unitOf(source, run))}</span
        >`
      : null
  }`;
}

function printedUnit({ unit }: Peak): string {
  return unit === 'deg' ? '°' : unit === 'percent' ? '%' : unit;
}

function unitOf({ trueRmsAxis }: ShakeSourceSection, run: RunDocument): string {
  if (isAngular(trueRmsAxis)) return '°';
  return run.motion.translational.unit === 'mm' ? 'mm' : '%';
}

/** What the camera hides of each source. */
function detailTable(run: RunDocument): Markup {
  const names = axisNames(run);
  return behind({
    caption: 'What the camera hides of each source',
    head: ['No.', 'Frequency of the motion', 'Size of the motion, RMS', 'Through the shutter', 'More'],
    rows: run.spectrum.sources.map((source, i): Insert[] => [
      i + 1,
      frequency(source.trueHz),
      source.trueRms === null
        ? 'not known'
        : html`${withUnit(figure(source.trueRms), unitOf(source, run))}<span class="sub"
              >${names[source.trueRmsAxis].name.toLowerCase()}</span
            >`,
      `${Math.round(100 * source.exposureGain)} %`,
      sourceDetails(source).join(' '),
    ]),
    numeric: [1, 2, 3],
  });
}

/** Every peak on its axis, for engineers. */
function peakTable(run: RunDocument): Markup {
  const names = axisNames(run);
  return behind({
    caption: 'Peaks of each axis, as seen by the camera (95 % ranges), with the source they belong to',
    head: [
      'Axis',
      'Frequency',
      'Width',
      'Size, RMS',
      'Range',
      'Over the background',
      'Shape',
      'Wavelength',
      'No.',
    ],
    rows: run.spectrum.peaks.map((peak): Insert[] => [
      names[peak.axis].name,
      `${peak.freqHz.toFixed(2)} Hz`,
      `${figure(peak.widthHz)} Hz`,
      withUnit(figure(peak.rms), printedUnit(peak)),
      `${figure(peak.rmsCi95[0])} to ${figure(peak.rmsCi95[1])}`,
      `${figure(peak.prominenceDb)} dB`,
      peak.mayBeRipple ? `${peak.shape}, or a ripple of the two axles` : peak.shape,
      peak.wavelengthM === null ? '–' : `${figure(1000 * peak.wavelengthM)} mm`,
      peak.source + 1,
    ]),
    numeric: [1, 2, 3, 4, 5, 7, 8],
  });
}
