/** The shake by frequency: a spectrum for each axis, the peaks that were found and what may cause them. */
import { figure, ANGULAR_AXES, AXES, type Axis, type Peak, type RunDocument } from '../../run/index.js';
import { decades, spectrumChart } from '../charts/index.js';
import { withUnit } from '../format.js';
import type { ReportBundle } from '../types.js';
import { axisNames, causeWords } from '../wording.js';
import { html, trusted, type Insert, type Markup } from './markup.js';
import { behind, table } from './table.js';

/** The section on frequencies. */
export function frequencySection({ run }: ReportBundle): Markup {
  const { spectrum } = run;
  const present = AXES.filter((axis) => (spectrum.series[axis]?.psd.length ?? 0) > 0);
  if (present.length === 0)
    return html`<section aria-labelledby="frequency">
      <h2 id="frequency">Shake by frequency</h2>
      <p>No spectrum could be made from this clip.</p>
    </section>`;
  const [low, high] = spectrum.ci95Factors;
  const peaks = [...spectrum.peaks].sort((a, b) => a.freqHz - b.freqHz);
  return html`<section aria-labelledby="frequency">
    <h2 id="frequency">Shake by frequency</h2>
    <p>
      Where the shake sits tells what causes it: a wheel turns at a frequency that follows the speed, a mount
      rings at the same frequency whatever the speed.
    </p>
    ${peaks.length === 0 ? html`<p>No peak stands clear of the rest.</p>` : peakTable(run, peaks)}
    <div class="charts six">${present.map((axis) => axisSpectrum(run, axis, peaks))}</div>
    <p class="legend">
      Solid: shake energy per hertz (power spectral density, PSD). Dashed: noise floor. Triangles: peaks,
      numbered as in the table. A single reading may lie ${figure(low)} to ${figure(high)} times as high (95
      %, the bar at the left); resolution ${figure(spectrum.resolutionHz)} Hz. Below
      ${figure(run.motion.bandHz[0])} Hz the curve is dimmed: that is intended move. ${spectrum.method}.
    </p>
    ${bandTable(run, present)}
  </section>`;
}

function isAngular(axis: Axis): boolean {
  return (ANGULAR_AXES as readonly string[]).includes(axis);
}

function peakTable(run: RunDocument, peaks: readonly Peak[]): Markup {
  const names = axisNames(run);
  const cause = ({ cause, confidence }: Peak): Insert =>
    cause === null || confidence === null
      ? causeWords(cause)
      : html`${causeWords(cause)}<span class="sub"
            >${Math.round(100 * Math.min(0.95, confidence))} % sure</span
          >`;
  return table({
    caption: 'Peaks and what may cause them',
    head: ['No.', 'Axis', 'Frequency', 'Wavelength', 'Size, RMS', 'Probable cause'],
    rows: peaks.map((peak, i): Insert[] => [
      i + 1,
      names[peak.axis].name,
      `${figure(peak.freqHz)} Hz`,
      peak.wavelengthM === null ? '–' : `${figure(1000 * peak.wavelengthM)} mm`,
      withUnit(figure(peak.rms), peak.unit === 'deg' ? '°' : peak.unit),
      cause(peak),
    ]),
    numeric: [2, 3, 4],
    wideOnly: [3],
  });
}

function axisSpectrum(run: RunDocument, axis: Axis, peaks: readonly Peak[]): Markup {
  const { spectrum } = run;
  const series = spectrum.series[axis];
  if (!series) return html``;
  const { name } = axisNames(run)[axis];
  const kin = AXES.filter((other) => isAngular(other) === isAngular(axis));
  const unit = printedUnit(series.unit);
  const svg = spectrumChart({
    label: `${name} by frequency, ${unit}`,
    kind: isAngular(axis) ? 'angular' : 'translational',
    unit,
    freqHz: series.freqHz,
    psd: series.psd,
    noiseFloor: spectrum.noiseFloor[axis] ?? null,
    cutoffHz: run.motion.bandHz[0],
    ci95Factors: spectrum.ci95Factors,
    peaks: peaks.flatMap((peak, i) =>
      peak.axis === axis ? [{ freqHz: peak.freqHz, mark: String(i + 1) }] : [],
    ),
    domain: decades(
      kin.flatMap((other) => {
        const own = spectrum.series[other];
        const inBand = own ? own.psd.filter((_, i) => own.freqHz[i] >= run.motion.bandHz[0]) : [];
        return [...inBand, spectrum.noiseFloor[other] ?? 0];
      }),
    ),
  });
  return html`<figure class="chart-box">
    <figcaption><b>${name}</b></figcaption>
    ${trusted(svg)}
  </figure>`;
}

/** Units as people write them. @example printedUnit("deg^2/Hz") // "deg²/Hz" */
function printedUnit(unit: string): string {
  return unit.replace(/\^2/g, '²');
}

/** A band holds a figure when its power is this many times that of the noise. */
const CLEAR_OF_NOISE = 2;

/** RMS in third octaves (base ten, centres 10^(k/10) Hz): the readings between the band's edges times their spacing. */
function bandTable(run: RunDocument, present: readonly Axis[]): Markup {
  const { spectrum } = run;
  const unitOf = (axis: Axis): string =>
    isAngular(axis) ? '°' : run.motion.translational.unit === 'mm' ? 'mm' : '%';
  const rows: Insert[][] = [];
  for (let k = -1; k <= 20; k++) {
    const [from, to] = [10 ** ((k - 0.5) / 10), 10 ** ((k + 0.5) / 10)];
    if (from > spectrum.nyquistHz || to < run.motion.bandHz[0]) continue;
    const cells = present.map((axis) => {
      const series = spectrum.series[axis];
      if (!series || series.freqHz.length < 2) return null;
      const step = series.freqHz[1] - series.freqHz[0];
      const inside = series.psd.filter((_, i) => series.freqHz[i] >= from && series.freqHz[i] < to);
      const power = inside.reduce((sum, value) => sum + value, 0) * step;
      const noise = inside.length * step * (spectrum.noiseFloor[axis] ?? 0);
      return power > CLEAR_OF_NOISE * noise ? Math.sqrt(power) : null;
    });
    if (cells.some((value) => value !== null))
      rows.push([
        `${figure(10 ** (k / 10))} Hz`,
        ...cells.map((value) => (value === null ? '–' : figure(value))),
      ]);
  }
  return behind({
    caption:
      'RMS in bands a third of an octave wide (a dash: under twice the noise; every reading is in spectrum.csv)',
    head: ['Band', ...present.map((axis) => `${axisNames(run)[axis].name}, ${unitOf(axis)}`)],
    rows,
    numeric: present.map((_, i) => i + 1),
  });
}
