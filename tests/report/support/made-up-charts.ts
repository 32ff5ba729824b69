/** Small data of charts over frequency, and a time line of one axis, made up. */
import type {
  SpectrumChartData,
  ThirdOctaveChartData,
  TimelineAxis,
  TimelineCurve,
  TimelineData,
} from '../../../src/report/charts/index.js';

export const SPECTRUM: SpectrumChartData = {
  label: 'Tilt by frequency',
  kind: 'angular',
  unit: '°²/Hz',
  freqHz: [0, 0.5, 1, 2, 4, 8],
  psd: [1, 1e-4, 2e-4, 1e-5, 3e-6, 1e-6],
  noiseFloor: 5e-7,
  cutoffHz: 0.8,
  ci95Factors: [0.5, 2.5],
  background: { freqHz: [1, 2, 4], psd: [1e-4, 1e-5, 3e-6] },
  peaks: [{ freqHz: 1, mark: '1', short: 'wheel', name: 'Wheel, once a turn' }],
  speedMps: 0.25,
  units: 'metric',
};

export const BANDS: ThirdOctaveChartData = {
  label: 'Tilt in thirds of an octave',
  kind: 'angular',
  unit: '°',
  bands: [
    { label: '1 to 1.6', fromHz: 0.891, toHz: 1.778, rms: 0.02, ci95: [0.01, 0.06], below: 0.06 },
    { label: '2', fromHz: 1.778, toHz: 2.239, rms: null, ci95: null, below: 0.004 },
  ],
  spanHz: [0.5, 8],
  top: 0.026,
};

/** A row with a curve of its own. */
export function curvedAxis(shake: readonly number[], more: Partial<TimelineCurve> = {}): TimelineAxis {
  return {
    id: 'tilt',
    name: 'Tilt',
    kind: 'angular',
    unit: '°',
    words: '0.03° RMS',
    shortWords: '0.03° RMS',
    quietWords: '',
    curve: { at: null, shake, intended: { every: 1, values: [0, 1] }, noise: 0.01, reach: 1, ...more },
  };
}

/** A row under its noise. */
export const QUIET_AXIS: TimelineAxis = {
  ...curvedAxis([]),
  id: 'lateral',
  name: 'Lateral',
  kind: 'translational',
  unit: 'mm',
  words: 'below 0.05 mm: noise hides it, no curve',
  shortWords: 'below 0.05 mm',
  quietWords: 'below noise',
  curve: null,
};

/** A time line of 10 s at 10 samples a second, from 10:00:00:00 on, along 2 m. */
export function timelineOf(axes: readonly TimelineAxis[], more: Partial<TimelineData> = {}): TimelineData {
  return {
    label: 'Shake over time',
    axes,
    fromS: 0,
    rateHz: 10,
    count: 101,
    trimFrames: 5,
    clip: { fpsFraction: '25/1', timecodeStart: '10:00:00:00' },
    places: { unit: 'm', fromS: 0, stepS: 5, place: [0, 0.5, 2] },
    marks: [],
    ...more,
  };
}
