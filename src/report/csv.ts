/**
 * The series of a run as CSV (RFC 4180): the motion on six axes over time in degrees and millimetres (or per cent of subject
 * distance), the spectra, their bands and what shakes. Point decimals whatever the locale; empty where nothing was observable.
 */
import type { Motion } from '../motion/index.js';
import { ANGULAR_AXES, AXES, csvCell, TRANSLATIONAL_AXES, type SpectrumSection } from '../run/index.js';

const LINE_END = '\r\n';

/** Joins rows of fields, each as `csvCell` writes it. */
export function csvText(rows: readonly (readonly string[])[]): string {
  return rows.map((row) => row.map(csvCell).join(',') + LINE_END).join('');
}

/**
 * The motion as CSV: frame (0-based, on the even time grid of the analysis), timeS, intended move and vibration of each axis,
 * live and kept tracks.
 *
 * Angles in degrees. Translations in mm when travel or speed is known, else in per cent of the median subject distance;
 * axes that are not observable stay empty. Track counts stay empty when the series was resampled to another length.
 */
export function motionCsv(motion: Motion): string {
  const metric = motion.translationUnit === 'm';
  const header = ['frame', 'timeS'];
  const columns: ((i: number) => string)[] = [(i) => String(i), (i) => decimal(motion.timeS[i], 6)];
  const add = (name: string, values: Float64Array, factor: number, observable: boolean): void => {
    header.push(name);
    columns.push((i) => (observable ? decimal(values[i] * factor, 7) : ''));
  };
  for (const axis of ANGULAR_AXES) {
    const seen = motion.axes[axis].status !== 'notObservable';
    add(`${axis}IntendedDeg`, motion.intended[axis], 180 / Math.PI, seen);
    add(`${axis}VibrationDeg`, motion.vibration[axis], 180 / Math.PI, seen);
  }
  const unit = metric ? 'Mm' : 'Percent';
  for (const axis of TRANSLATIONAL_AXES) {
    const seen = motion.mode === 'full' && motion.axes[axis].status !== 'notObservable';
    add(`${axis}Intended${unit}`, motion.intended[axis], metric ? 1000 : 100, seen);
    add(`${axis}Vibration${unit}`, motion.vibration[axis], metric ? 1000 : 100, seen);
  }
  const counts = (name: string, values: Int32Array): void => {
    header.push(name);
    columns.push((i) => (values.length === motion.timeS.length ? String(values[i]) : ''));
  };
  counts('tracks', motion.tracksPerFrame);
  counts('inliers', motion.inliersPerFrame);
  const rows = Array.from(motion.timeS, (_, i) => columns.map((column) => column(i)));
  return csvText([header, ...rows]);
}

/**
 * The spectra as CSV: freqHz, then one column of one-sided power per hertz for each axis that has one, its unit in the name
 * (tiltPsdDeg2PerHz). Axes on different frequency grids share the rows; a field is empty where an axis has no value.
 */
export function spectrumCsv(spectrum: SpectrumSection): string {
  const present = AXES.filter((axis) => spectrum.series[axis] !== undefined);
  const header = ['freqHz'];
  const values = present.map((axis) => {
    const series = spectrum.series[axis] ?? { freqHz: [], psd: [], unit: '' };
    header.push(`${axis}Psd${unitInName(series.unit)}`);
    return new Map(series.freqHz.map((f, i) => [f, series.psd[i]]));
  });
  const freqs = [...new Set(values.flatMap((column) => [...column.keys()]))].sort((a, b) => a - b);
  const rows = freqs.map((f) => [
    decimal(f, 6),
    ...values.map((column) => {
      const value = column.get(f);
      return value === undefined || !Number.isFinite(value) ? '' : value.toPrecision(7);
    }),
  ]);
  return csvText([header, ...rows]);
}

/**
 * Shake in thirds of an octave as CSV: label, centreHz, fromHz, toHz, exposureGain, then for each axis RMS, both ends of its 95 %
 * range and the bound that always holds, unit in the name (tiltRmsDeg). RMS and range are empty where noise hides the shake.
 */
export function thirdOctavesCsv(spectrum: SpectrumSection): string {
  const present = AXES.flatMap((axis) => {
    const bands = spectrum.thirdOctaves[axis];
    const unit = unitInName((spectrum.series[axis]?.unit ?? '').replace('^2/Hz', ''));
    return bands ? [{ axis, bands, unit }] : [];
  });
  const header = [
    ...['label', 'centreHz', 'fromHz', 'toHz', 'exposureGain'],
    ...present.flatMap(({ axis, unit }) =>
      ['Rms', 'RmsLow', 'RmsHigh', 'RmsBelow'].map((name) => `${axis}${name}${unit}`),
    ),
  ];
  const digits = (value: number | undefined): string => (value === undefined ? '' : value.toPrecision(7));
  const rows = (present[0]?.bands ?? []).map((band, i) => [
    band.label,
    ...[band.centreHz, band.fromHz, band.toHz].map((hz) => decimal(hz, 6)),
    decimal(band.exposureGain, 6),
    ...present.flatMap(({ bands }) => {
      const { rms, ci95, belowRms } = bands[i];
      return [rms ?? undefined, ci95?.[0], ci95?.[1], belowRms].map(digits);
    }),
  ]);
  return csvText([header, ...rows]);
}

/**
 * What shakes as CSV, one row for each source on each axis that shows it: number of the source as in the report, cause, confidence
 * (empty without a name), frequency as seen with its 95 % range, frequency of the motion itself, shape, RMS as seen with its 95 % range
 * in the unit that the name tells, shift of the picture by the whole source, share that the shutter let through.
 */
export function sourcesCsv({ peaks, sources }: SpectrumSection): string {
  const units = [...new Set(peaks.map(({ unit }) => unit))];
  const header = [
    ...['source', 'cause', 'confidence', 'axis', 'freqHz', 'freqLowHz', 'freqHighHz', 'trueHz', 'shape'],
    ...units.flatMap((unit) => ['rms', 'rmsLow', 'rmsHigh'].map((name) => `${name}${unitInName(unit)}`)),
    ...['prominenceDb', 'wavelengthM', 'shiftPx', 'exposureGain', 'mayBeRipple'],
  ];
  const digits = (value: number): string => value.toPrecision(7);
  const rows = sources.flatMap((source, at) =>
    peaks
      .filter((peak) => peak.source === at)
      .map((peak) => [
        ...[String(at + 1), source.cause, source.confidence === null ? '' : decimal(source.confidence, 3)],
        peak.axis,
        ...[peak.freqHz, ...peak.ci95Hz, source.trueHz].map((hz) => decimal(hz, 6)),
        peak.shape,
        ...units.flatMap((unit) =>
          unit === peak.unit ? [peak.rms, ...peak.rmsCi95].map(digits) : ['', '', ''],
        ),
        decimal(peak.prominenceDb, 3),
        peak.wavelengthM === null ? '' : decimal(peak.wavelengthM, 6),
        digits(source.shiftPx),
        decimal(source.exposureGain, 6),
        peak.mayBeRipple ? 'yes' : 'no',
      ]),
  );
  return csvText([header, ...rows]);
}

/** A unit as part of a column name. @example unitInName("deg^2/Hz") // "Deg2PerHz" */
export function unitInName(unit: string): string {
  return unit
    .replace(/²/g, '2')
    .replace(/%/g, 'Percent')
    .replace(/\//g, ' per ')
    .replace(/[^A-Za-z0-9 ]/g, '')
    .split(/\s+/)
    .filter((word) => word !== '')
    .map((word) => word.charAt(0).toUpperCase() + word.slice(1))
    .join('');
}

function decimal(value: number, decimals: number): string {
  if (!Number.isFinite(value)) return '';
  const text = value.toFixed(decimals).replace(/\.?0+$/, '');
  return text === '-0' || text === '' ? '0' : text;
}
