/** What shakes: one row for each source, what shifts the picture most first, with what else is known of it. */
import { figure, type Peak, type RunDocument, type ShakeSourceSection } from '../../run/index.js';
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
import { behind, table } from './table.js';

/** The table of sources, or a sentence where there is none. */
export function sourceTable(run: RunDocument): Markup {
  const { sources } = run.spectrum;
  if (sources.length === 0)
    return html`<p>
      No peak stands clear of what the floor and the noise show anyway: the shake is spread over all
      frequencies.
    </p>`;
  return html`${table({
    caption: 'What shakes, most first',
    head: ['No.', 'What', 'Frequency', 'On', 'Shift of the picture', 'Sure', 'Do first'],
    rows: sources.map((source, i): Insert[] => [
      i + 1,
      whatCell(source, run),
      html`${frequency(source.freqHz)}<span class="sub"
          >± ${figure((source.ci95Hz[1] - source.ci95Hz[0]) / 2)} Hz</span
        >`,
      axesInWords(source, run),
      `${figure(source.shiftPx)} px`,
      sureness(source),
      lookFirst(source),
    ]),
    numeric: [2, 4, 5],
    wideOnly: [3, 4],
  })}
  ${detailTable(run)} ${peakTable(run)}`;
}

function whatCell(source: ShakeSourceSection, run: RunDocument): Markup {
  return html`<strong>${sourceName(source)}</strong>${sourceRemarks(source, run).map(
      (remark) => html`<span class="sub">${remark}</span>`,
    )}`;
}

/** What the camera hides of each source. */
function detailTable(run: RunDocument): Markup {
  const names = axisNames(run);
  const unitOf = (source: ShakeSourceSection): string =>
    ['pan', 'tilt', 'roll'].includes(source.trueRmsAxis)
      ? '°'
      : run.motion.translational.unit === 'mm'
        ? 'mm'
        : '%';
  return behind({
    caption: 'What the camera hides of each source',
    head: ['No.', 'Frequency of the motion', 'Size of the motion, RMS', 'Through the shutter', 'More'],
    rows: run.spectrum.sources.map((source, i): Insert[] => [
      i + 1,
      frequency(source.trueHz),
      source.trueRms === null
        ? 'not known'
        : html`${withUnit(figure(source.trueRms), unitOf(source))}<span class="sub"
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
  const unit = ({ unit: name }: Peak): string => (name === 'deg' ? '°' : name === 'percent' ? '%' : name);
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
      frequency(peak.freqHz),
      `${figure(peak.widthHz)} Hz`,
      withUnit(figure(peak.rms), unit(peak)),
      `${figure(peak.rmsCi95[0])} to ${figure(peak.rmsCi95[1])}`,
      `${figure(peak.prominenceDb)} dB`,
      peak.mayBeRipple ? `${peak.shape}, or a ripple of the two axles` : peak.shape,
      peak.wavelengthM === null ? '–' : `${figure(1000 * peak.wavelengthM)} mm`,
      peak.source + 1,
    ]),
    numeric: [1, 2, 3, 4, 5, 7, 8],
  });
}
