/** The motion without some of its sources of shake: what a peak holds above its background is taken out of the vibration, axis by axis. */
import { inverseRealFft, realFft, rms } from '../../numerics/index.js';
import { isAngular, sixAxes, type Axis, type Peak } from '../../run/index.js';
import { remedyTexts } from '../../texts/index.js';
import { withoutEnds } from '../../stabilise/index.js';
import type { Motion } from '../../motion/index.js';
import type { MeasuredPass } from '../pass/measured-pass.js';
import { filteredAtMount, mountGain, mountOf } from './mount-gain.js';
import { NOTHING_ELSE, type ChangedMotion, type RefusedChange } from './types.js';
import { withVibration } from './with-vibration.js';

/** A line is spread by the length of the clip over so many resolution cells to each side. */
const LINE_CELLS = 1.5;
/** A resonance is spread over so many of its half-power widths to each side. */
const RESONANCE_WIDTHS = 1.5;

/** Decibels of its ringing that a mount may really lose, over those of a mass on a spring: [least, most], a guess of this project. */
const RINGING_LOST = [0.75, 1.1] as const;

/**
 * The pass without these sources.
 *
 * At each peak of a source the band of the peak is scaled down until its power is that of the background under it; the background stays,
 * since stopping the source leaves the floor. The range runs over the 95 % range of the peak's RMS. What a ringing mount adds to the
 * shake of its foot is taken off by its gain, which reaches further than the band of a peak: in eleven made-up passes the RMS came within
 * 2 % and crops within 4 % of those on a stiff mount, where scaling the band left 2 to 31 % too much crop and 13 to 41 % too much RMS.
 */
export function silenced(pass: MeasuredPass, sources: readonly number[]): ChangedMotion | RefusedChange {
  const { motion, sections } = pass;
  const known = sections.spectrum.peaks.filter(({ source }) => sources.includes(source));
  if (known.length === 0) return { refused: remedyTexts.noSuchSource };
  const mounts = sources.flatMap((source) => mountOf(sections.spectrum, [source]) ?? []);
  const peaks = known.filter(({ source }) => mountOf(sections.spectrum, [source]) === null);
  const less = (rmsOf: (peak: Peak) => number, lost: number): Motion =>
    mounts.reduce(
      (left, mount) => filteredAtMount(left, mount, (hz) => mountGain(mount, hz) ** -lost),
      withoutPeaks(motion, peaks, rmsOf),
    );
  return {
    expected: less(({ rms: seen }) => seen, 1),
    least: less(({ rmsCi95 }) => rmsCi95[1], RINGING_LOST[1]),
    most: less(({ rmsCi95 }) => rmsCi95[0], RINGING_LOST[0]),
    ...NOTHING_ELSE,
    assumes: [remedyTexts.stoppedAsAWhole],
  };
}

/** The motion without what machines shake at frequencies of their own. */
export function withoutMachines({ motion, sections }: MeasuredPass): Motion {
  const { sources, peaks } = sections.spectrum;
  const machines = peaks.filter(({ source }) => sources[source]?.cause === 'machine');
  return withoutPeaks(motion, machines, ({ rms: seen }) => seen);
}

/** @param rmsOf what to take out of each peak, in the unit of the peak */
function withoutPeaks(motion: Motion, peaks: readonly Peak[], rmsOf: (peak: Peak) => number): Motion {
  return withVibration(
    motion,
    sixAxes((axis) =>
      peaks
        .filter((peak) => peak.axis === axis)
        .reduce(
          (series, peak) => withoutPeak(motion, series, peak, inMotionUnit(motion, axis, rmsOf(peak))),
          motion.vibration[axis],
        ),
    ),
  );
}

/** Peaks are told in degrees, and in mm or per cent of the subject distance. */
function inMotionUnit({ translationUnit }: Motion, axis: Axis, value: number): number {
  if (isAngular(axis)) return (value * Math.PI) / 180;
  return value / (translationUnit === 'm' ? 1000 : 100);
}

function withoutPeak(
  { rateHz, trimFrames }: Motion,
  series: Float64Array,
  { freqHz, widthHz, shape }: Peak,
  takenRms: number,
): Float64Array {
  const n = series.length;
  const cellHz = rateHz / n;
  const reachHz = Math.max(LINE_CELLS * cellHz, shape === 'resonance' ? RESONANCE_WIDTHS * widthHz : 0);
  const { re, im } = realFft(series);
  for (let k = 0; k < re.length; k++) {
    if (Math.abs(k * cellHz - freqHz) <= reachHz) continue;
    re[k] = 0;
    im[k] = 0;
  }
  const band = inverseRealFft(re, im, n);
  const bandRms = rms(withoutEnds(band, trimFrames));
  if (!(bandRms > 0 && takenRms > 0)) return series;
  const share = 1 - Math.sqrt(Math.max(0, 1 - (takenRms / bandRms) ** 2));
  return series.map((value, t) => value - share * band[t]);
}
