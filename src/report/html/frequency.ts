/** The shake by frequency: what shakes and why, spectra, bands and their change along the run for each axis. */
import { figure, isAngular, AXES, type Axis, type RunDocument } from '../../run/index.js';
import { flickerWords, soundInWords, speedWords } from '../cause-words.js';
import { decades, spectrogramChart, spectrumChart, thirdOctaveChart } from '../charts/index.js';
import type { ReportBundle } from '../types.js';
import { axisNames } from '../wording.js';
import { html, trusted, type Insert, type Markup } from './markup.js';
import { sourceTable } from './sources.js';
import { behind } from './table.js';

/** The section on frequencies. */
export function frequencySection({ run }: ReportBundle): Markup {
  const { spectrum } = run;
  const present = AXES.filter((axis) => (spectrum.series[axis]?.psd.length ?? 0) > 0);
  if (present.length === 0)
    return html`<section aria-labelledby="frequency">
      <h2 id="frequency">What shakes, and why</h2>
      <p>No spectrum could be made from this clip.</p>
    </section>`;
  const sentences = [
    falsePeakWords(run),
    speedWords(spectrum),
    flickerWords(spectrum),
    soundInWords(spectrum),
    ...spectrum.notes,
  ];
  return html`<section aria-labelledby="frequency">
    <h2 id="frequency">What shakes, and why</h2>
    <p>
      Where the shake sits tells what causes it: a wheel turns at a frequency that follows the speed, a mount
      rings at the same frequency whatever the speed.
    </p>
    ${sourceTable(run)}
    <ul class="columns">
      ${sentences.filter((text) => text !== '').map((text) => html`<li>${text}</li>`)}
    </ul>
    <h3>Shake in thirds of an octave</h3>
    <div class="charts spectra">${present.map((axis) => axisBands(run, axis))}</div>
    <p class="legend">
      Bars: RMS of the shake in each band, as the camera saw it, noise taken off; lines: 95 % range. Open
      bars: below that, noise hides it. Bands by IEC 61260-1; those that this clip is too short to tell apart
      are joined.
    </p>
    ${bandTable(run, present)}
    <h3>Spectra</h3>
    <div class="charts spectra">${present.map((axis) => axisSpectrum(run, axis))}</div>
    ${spectrumLegend(run)} ${spectrogramFigure(run)}
  </section>`;
}

function falsePeakWords(run: RunDocument): string {
  const { falsePeaks, series } = run.spectrum;
  if (falsePeaks === null)
    return 'No model of the floor holds for this pass (it needs speed, wheelbase and a rigid head): a peak may be a ripple that two axles print on any floor.';
  const names = axisNames(run);
  const others = AXES.filter((axis) => series[axis] && !falsePeaks.axes.includes(axis));
  const elsewhere =
    others.length === 0
      ? ''
      : ` No such rate is known for ${others.map((axis) => names[axis].name.toLowerCase()).join(', ')}: a peak there alone may be a ripple of the two axles.`;
  return `Of 100 passes over a floor without any cause, about ${figure(falsePeaks.inHundred)} show a false peak on an axis (simulated passes).${elsewhere}`;
}

function spectrumLegend({ spectrum, motion }: RunDocument): Markup {
  const [low, high] = spectrum.ci95Factors;
  return html`<p class="legend">
    Solid: shake energy per hertz (power spectral density, PSD). Long dashes: noise floor. Dots: the level
    that floor and noise explain (five tapers); what stands out of it is a peak. Triangles: peaks, with the
    number of their source in the table. A single reading may lie ${figure(low)} to ${figure(high)} times as
    high (95 %, the bar at the left); resolution ${figure(spectrum.resolutionHz)} Hz, equivalent noise
    bandwidth ${figure(spectrum.noiseBandwidthHz)} Hz, ${figure(spectrum.degreesOfFreedom)} degrees of
    freedom. Below ${figure(motion.bandHz[0])} Hz the curve is dimmed: that is intended move.
    ${spectrum.method}.
  </p>`;
}

/** Axes of one kind share a scale. */
function kinOf(axis: Axis): Axis[] {
  return AXES.filter((other) => isAngular(other) === isAngular(axis));
}

function axisSpectrum(run: RunDocument, axis: Axis): Markup {
  const { spectrum } = run;
  const series = spectrum.series[axis];
  if (!series) return html``;
  const { name } = axisNames(run)[axis];
  const unit = printedUnit(series.unit);
  const svg = spectrumChart({
    label: `${name} by frequency, ${unit}`,
    kind: isAngular(axis) ? 'angular' : 'translational',
    unit,
    freqHz: series.freqHz,
    psd: series.psd,
    noiseFloor: spectrum.noiseFloor[axis] ?? null,
    background: spectrum.background[axis] ?? null,
    cutoffHz: run.motion.bandHz[0],
    ci95Factors: spectrum.ci95Factors,
    peaks: spectrum.peaks.flatMap((peak) =>
      peak.axis === axis ? [{ freqHz: peak.freqHz, mark: String(peak.source + 1) }] : [],
    ),
    domain: decades(
      kinOf(axis).flatMap((other) => {
        const own = spectrum.series[other];
        const inBand = own ? own.psd.filter((_, i) => own.freqHz[i] >= run.motion.bandHz[0]) : [];
        return [...inBand, spectrum.noiseFloor[other] ?? 0];
      }),
    ),
  });
  return chartBox(name, svg);
}

function axisBands(run: RunDocument, axis: Axis): Markup {
  const bands = run.spectrum.thirdOctaves[axis];
  if (!bands || bands.length === 0) return html``;
  const { name } = axisNames(run)[axis];
  const kin = kinOf(axis).flatMap((other) => run.spectrum.thirdOctaves[other] ?? []);
  const unit = unitOf(run, axis);
  const svg = thirdOctaveChart({
    label: `${name} in thirds of an octave, RMS in ${unit}`,
    kind: isAngular(axis) ? 'angular' : 'translational',
    unit,
    bands: bands.map(({ label, rms, ci95, belowRms }) => ({ label, rms, ci95, below: belowRms })),
    // A range that is wide because a clip is short must not squeeze the bars.
    top: 1.3 * Math.max(...kin.map(({ rms, belowRms }) => rms ?? belowRms)),
  });
  return chartBox(name, svg);
}

function chartBox(name: string, svg: string): Markup {
  return html`<figure class="chart-box">
    <figcaption><b>${name}</b></figcaption>
    ${trusted(svg)}
  </figure>`;
}

/** Units as people write them. @example printedUnit("deg^2/Hz") // "deg²/Hz" */
function printedUnit(unit: string): string {
  return unit.replace(/\^2/g, '²');
}

function unitOf(run: RunDocument, axis: Axis): string {
  return isAngular(axis) ? '°' : run.motion.translational.unit === 'mm' ? 'mm' : '%';
}

/** RMS in third octaves; bands that one axis joins because of its length are joined on all. */
function bandTable(run: RunDocument, present: readonly Axis[]): Markup {
  const { thirdOctaves } = run.spectrum;
  const first = present.flatMap((axis) => (thirdOctaves[axis] ? [thirdOctaves[axis]] : []))[0] ?? [];
  return behind({
    caption:
      'RMS in bands a third of an octave wide, with 95 % ranges (every reading of the spectra is in spectrum.csv)',
    head: [
      'Band',
      ...present.map((axis) => `${axisNames(run)[axis].name}, ${unitOf(run, axis)}`),
      'Through the shutter',
    ],
    rows: first.map((band, i): Insert[] => [
      `${band.label} Hz`,
      ...present.map((axis): Insert => {
        const own = thirdOctaves[axis]?.[i];
        if (!own) return '–';
        if (own.rms === null || own.ci95 === null) return `below ${figure(own.belowRms)}`;
        return html`${figure(own.rms)}<span class="sub"
            >${figure(own.ci95[0])} to ${figure(own.ci95[1])}</span
          >`;
      }),
      `${Math.round(100 * band.exposureGain)} %`,
    ]),
    numeric: [...present.map((_, i) => i + 1), present.length + 1],
  });
}

/** The spectrogram of the axis of which the strongest source shows most; of tilt where there is none. */
function spectrogramFigure(run: RunDocument): Markup | null {
  const { spectrogram, sources } = run.spectrum;
  if (spectrogram === null || spectrogram.timeS.length < 2) return null;
  const wanted: Axis = sources[0]?.trueRmsAxis ?? 'tilt';
  const axis = spectrogram.axes[wanted] ? wanted : AXES.find((one) => spectrogram.axes[one] !== undefined);
  const rows = axis && spectrogram.axes[axis];
  if (axis === undefined || rows === undefined) return null;
  const { name } = axisNames(run)[axis];
  return html`<figure class="chart-box wide-chart along">
    <figcaption>
      <b>${name} along the run</b> a row that runs through is a steady source, a column through all
      frequencies a knock
    </figcaption>
    ${trusted(
      spectrogramChart({
        label: `${name}: power by time and frequency, the deeper the shade the stronger`,
        timeS: spectrogram.timeS,
        placeM: spectrogram.placeM,
        freqHz: spectrogram.freqHz,
        rows,
      }),
    )}
    <p class="legend">
      Each column of time is a window of ${figure(spectrogram.windowS)} s, ${figure(spectrogram.resolutionHz)}
      Hz wide; single cells scatter by a factor of two. All axes are in run.json.
    </p>
  </figure>`;
}
