/** The shake by frequency: what shakes and why, then the spectra, the axis of the strongest source first and large, and how far to rely on it. */
import { AXES, figure, hasFigure, type Axis, type RunDocument } from '../../run/index.js';
import { sourceTexts, spectrumTexts } from '../../texts/index.js';
import { flickerWords, shakesMost, soundInWords, speedWords } from '../cause-words.js';
import { spectrogramChart } from '../charts/index.js';
import type { ReportBundle } from '../types.js';
import { axisNames } from '../wording.js';
import { numbersOf } from './axis-numbers.js';
import { bandTable } from './band-table.js';
import { html, trusted, type Markup } from './markup.js';
import { sourceTable } from './sources.js';
import { leadAxis, leadWords } from './spectrum-lead.js';
import { bandsFigure, spectrumFigure } from './spectrum-figures.js';

/** Widths of the drawings, px: large and small on a desk, and on a phone. */
const LARGE_PX = 1080;
const SMALL_PX = 360;
const ALONG_PX = 720;

/** The section on frequencies. */
export function frequencySection(bundle: ReportBundle): Markup {
  const { run } = bundle;
  const { spectrum } = run;
  const present = AXES.filter((axis) => (spectrum.series[axis]?.psd.length ?? 0) > 0);
  if (present.length === 0)
    return html`<section aria-labelledby="frequency">
      <h2 id="frequency">${sourceTexts.heading}</h2>
      <p>${sourceTexts.noSpectrum}</p>
    </section>`;
  return html`<section aria-labelledby="frequency">
    <h2 id="frequency">${sourceTexts.heading}</h2>
    <p class="lead">${openingWords(run)}</p>
    ${sourceTable(run)} ${spectra(bundle, present)} ${bandTable(run, present)} ${spectrogramFigure(bundle)}
    ${reliance(run)}
  </section>`;
}

function openingWords(run: RunDocument): string {
  const { sources } = run.spectrum;
  if (sources.length === 0) return sourceTexts.noSource;
  const named = sources.filter(({ cause }) => cause !== 'unknown').length;
  return sourceTexts.opening(sources.length, named, shakesMost(run));
}

/** Axes with a figure or a peak; the rest are under the noise over all frequencies. */
function isDrawn(run: RunDocument, axis: Axis): boolean {
  return hasFigure(numbersOf(run, axis).status) || run.spectrum.peaks.some((peak) => peak.axis === axis);
}

function spectra(bundle: ReportBundle, present: readonly Axis[]): Markup {
  const { run } = bundle;
  const names = axisNames(run);
  const drawn = present.filter((axis) => isDrawn(run, axis));
  const quiet = present.filter((axis) => !isDrawn(run, axis)).map((axis) => names[axis].name);
  const lead = leadAxis(bundle, drawn);
  const quietNote = quiet.length === 0 ? null : html`<p class="legend">${spectrumTexts.quiet(quiet)}</p>`;
  if (lead === null) return html`${quietNote}`;
  const others = drawn.filter((axis) => axis !== lead);
  return html`<h3>${spectrumTexts.heading(names[lead].name)}</h3>
    <p>${leadWords(bundle, lead)}</p>
    <div>
      ${spectrumFigure(run, lead, spectrumTexts.spectrumCaption, LARGE_PX, SMALL_PX)}
      ${bandsFigure(run, lead, spectrumTexts.bandsCaption, LARGE_PX, SMALL_PX)} ${legends(run)}
      ${others.length === 0 ? null : smallCharts(run, others)}
    </div>
    ${quietNote}`;
}

function smallCharts(run: RunDocument, axes: readonly Axis[]): Markup {
  const names = axisNames(run);
  return html`<h3>${spectrumTexts.others}</h3>
    <div class="charts spectra">
      ${axes.map(
        (axis) =>
          html`<div>
            ${spectrumFigure(run, axis, html`<b>${names[axis].name}</b>`, SMALL_PX)}
            ${bandsFigure(run, axis, null, SMALL_PX)}
          </div>`,
      )}
    </div>`;
}

function legends({ spectrum, motion }: RunDocument): Markup {
  return html`<p class="legend">
      ${spectrumTexts.legend(figure(spectrum.noiseBandwidthHz), figure(motion.bandHz[0]))}
    </p>
    <p class="legend">${spectrumTexts.bandsLegend}</p>`;
}

/** How far the causes hold: false peaks, the speed they speak for, light, sound, notes. */
function reliance(run: RunDocument): Markup {
  const { spectrum } = run;
  const sentences = [
    falsePeakWords(run),
    speedWords(spectrum),
    flickerWords(spectrum),
    soundInWords(spectrum),
    ...spectrum.notes,
  ].filter((text) => text !== '');
  return html`<h3>${sourceTexts.sureHeading}</h3>
    <ul class="columns">
      ${sentences.map((text) => html`<li>${text}</li>`)}
    </ul>`;
}

function falsePeakWords(run: RunDocument): string {
  const { falsePeaks, series } = run.spectrum;
  if (falsePeaks === null) return sourceTexts.noFloorModel;
  const names = axisNames(run);
  const others = AXES.filter((axis) => series[axis] && !falsePeaks.axes.includes(axis));
  const elsewhere =
    others.length === 0
      ? ''
      : sourceTexts.falsePeaksElsewhere(others.map((axis) => names[axis].name.toLowerCase()));
  return `${sourceTexts.falsePeaks(figure(falsePeaks.inHundred))}${elsewhere}`;
}

/** The spectrogram of the axis of which the strongest source shows most; of tilt where there is none. */
function spectrogramFigure({ run }: ReportBundle): Markup | null {
  const { spectrogram, sources } = run.spectrum;
  if (spectrogram === null || spectrogram.timeS.length < 2) return null;
  const wanted: Axis = sources[0]?.trueRmsAxis ?? 'tilt';
  const axis = spectrogram.axes[wanted] ? wanted : AXES.find((one) => spectrogram.axes[one] !== undefined);
  const rows = axis && spectrogram.axes[axis];
  if (axis === undefined || rows === undefined) return null;
  const { name } = axisNames(run)[axis];
  const { timeS, placeM, freqHz, windowS, resolutionHz } = spectrogram;
  const label = spectrumTexts.alongLabel(name);
  const drawn = (widthPx: number): Markup =>
    trusted(spectrogramChart({ label, timeS, placeM, freqHz, rows, units: run.units }, widthPx));
  return html`<figure class="chart-box along">
    <figcaption><b>${spectrumTexts.alongHeading(name)}</b> ${spectrumTexts.along}</figcaption>
    <div class="for-desk">${drawn(ALONG_PX)}</div>
    <div class="for-phone">${drawn(SMALL_PX)}</div>
    <p class="legend">${spectrumTexts.alongLegend(figure(windowS), figure(resolutionHz))}</p>
  </figure>`;
}
