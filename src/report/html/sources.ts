/** What shakes: one row for each source, what shifts the picture most first, with what else is known of it. */
import { figure, type Peak, type RunDocument, type ShakeSourceSection } from '../../run/index.js';
import { causeTexts, sourceTexts } from '../../texts/index.js';
import {
  axesInWords,
  frequency,
  lookFirst,
  sourceDetails,
  sourceName,
  sourceRemarks,
  sureness,
} from '../cause-words.js';
import { deliveryPxPerClipPx } from '../delivery-px.js';
import { withUnit } from '../format.js';
import { axisNames } from '../wording.js';
import { sentenceUnit } from './axis-units.js';
import { html, type Insert, type Markup } from './markup.js';
import { behind, table, type TableData } from './table.js';

/** Sources that stand open; the rest is folded away. */
const OPEN = 12;
/** Below this share through the shutter the motion itself is told beside what was seen. */
const HIDES_SOME = 0.95;

/** The table of sources; nothing where there is none. */
export function sourceTable(run: RunDocument): Markup {
  const { sources } = run.spectrum;
  if (sources.length === 0) return html``;
  const rows = sources.map((source, i): Insert[] => [
    i + 1,
    whatCell(source, run),
    sureness(source),
    lookFirst(source, run),
    html`${causeTexts.hz(source.freqHz.toFixed(2))}<span class="sub"
        >${sourceTexts.within(figure((source.ci95Hz[1] - source.ci95Hz[0]) / 2))}</span
      >`,
    axesInWords(source, run),
    sizeCell(i, run),
  ]);
  const data = (caption: string, some: typeof rows): TableData => ({
    caption,
    head: [...sourceTexts.heads],
    rows: some,
    numeric: [2, 4, 6],
    wideOnly: [3, 5],
  });
  const rest = rows.slice(OPEN);
  return html`${table(data(sourceTexts.caption, rows.slice(0, OPEN)))}
  ${rest.length === 0 ? null : behind(data(sourceTexts.rest(rest.length), rest))} ${hiddenTable(run)}
  ${peakTable(run)}`;
}

/** On a phone what to do stands here, for want of a column of its own. */
function whatCell(source: ShakeSourceSection, run: RunDocument): Markup {
  const remarks = sourceRemarks(source, run).map((remark) => html`<span class="sub">${remark}</span>`);
  return html`<strong>${sourceName(source, run)}</strong
    ><span class="narrow">${lookFirst(source, run)}</span>${remarks}`;
}

/** Shift in px of the delivery, and below it the RMS on the axis that shows it most: as seen, and of the motion itself. */
function sizeCell(at: number, run: RunDocument): Markup {
  const { sources, peaks } = run.spectrum;
  const source = sources[at];
  const seen = peaks.find(({ source: of, axis }) => of === at && axis === source.trueRmsAxis);
  const name = axisNames(run)[source.trueRmsAxis].name.toLowerCase();
  const hides = source.exposureGain < HIDES_SOME && source.cause !== 'lamp';
  const seenWords =
    seen &&
    html`<span class="sub">${sourceTexts.onAxis(name, withUnit(figure(seen.rms), printedUnit(seen)))}</span>`;
  return html`${sourceTexts.px(figure(source.shiftPx * deliveryPxPerClipPx(run)))}${seenWords ?? null}${
    hides ? html`<span class="sub">${sourceTexts.itself(trueSize(source, run))}</span>` : null
  }`;
}

function trueSize({ trueRms, trueRmsAxis }: ShakeSourceSection, run: RunDocument): string {
  return trueRms === null ? sourceTexts.notKnown : withUnit(figure(trueRms), sentenceUnit(trueRmsAxis, run));
}

function printedUnit({ unit }: Peak): string {
  return unit === 'deg' ? '°' : unit === 'percent' ? '%' : unit;
}

/** What the camera hides of each source. */
function hiddenTable(run: RunDocument): Markup {
  const names = axisNames(run);
  return behind({
    caption: sourceTexts.hiddenCaption,
    head: [...sourceTexts.hiddenHeads],
    rows: run.spectrum.sources.map((source, i): Insert[] => [
      i + 1,
      frequency(source.trueHz),
      html`${trueSize(source, run)}${
        source.trueRms === null
          ? null
          : html`<span class="sub">${names[source.trueRmsAxis].name.toLowerCase()}</span>`
      }`,
      causeTexts.percent(String(Math.round(100 * source.exposureGain))),
      sourceDetails(source, run).join(' '),
    ]),
    numeric: [1, 2, 3],
  });
}

/** Every peak on its axis, for engineers. */
function peakTable(run: RunDocument): Markup {
  const names = axisNames(run);
  return behind({
    caption: sourceTexts.peaksCaption,
    head: [...sourceTexts.peakHeads],
    rows: run.spectrum.peaks.map((peak): Insert[] => [
      names[peak.axis].name,
      causeTexts.hz(peak.freqHz.toFixed(2)),
      causeTexts.hz(figure(peak.widthHz)),
      withUnit(figure(peak.rms), printedUnit(peak)),
      withUnit(sourceTexts.range(figure(peak.rmsCi95[0]), figure(peak.rmsCi95[1])), printedUnit(peak)),
      sourceTexts.db(figure(peak.prominenceDb)),
      peak.mayBeRipple ? sourceTexts.mayBeRipple(peak.shape) : peak.shape,
      peak.wavelengthM === null ? causeTexts.none : withUnit(figure(1000 * peak.wavelengthM), 'mm'),
      peak.source + 1,
    ]),
    numeric: [1, 2, 3, 4, 5, 7, 8],
  });
}
