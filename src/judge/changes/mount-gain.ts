/** How a mount that rings passes the shake of its foot on to the camera: amplitude gain over frequency in Hz, from the peaks of a pass. */
import { inverseRealFft, realFft } from '../../numerics/index.js';
import { AXES, sixAxes, type Axis, type SpectrumSection } from '../../run/index.js';
import type { Motion } from '../../motion/index.js';
import { withVibration } from './with-vibration.js';

/** A mount as the pass showed it. */
export interface RingingMount {
  readonly freqHz: number;
  /** Share of critical damping: half of the half-power width over the frequency. */
  readonly damping: number;
  /** Axes that show it. */
  readonly axes: readonly Axis[];
}

/** Less damping than this is not told from a line in clips of seconds. */
const LEAST_DAMPING = 0.01;
const MOST_DAMPING = 0.5;

/**
 * The mount that the pass names, by its strongest resonance; null without one.
 *
 * @param among places of the sources that count; all of them when left out
 */
export function mountOf(
  { sources, peaks }: Pick<SpectrumSection, 'sources' | 'peaks'>,
  among: readonly number[] = [...sources.keys()],
): RingingMount | null {
  const rings = peaks.filter(
    ({ source, shape }) =>
      among.includes(source) && sources[source]?.cause === 'mount' && shape === 'resonance',
  );
  if (rings.length === 0) return null;
  const [strongest] = [...rings].sort((a, b) => b.prominenceDb - a.prominenceDb);
  const damping = strongest.widthHz / (2 * strongest.freqHz);
  return {
    freqHz: strongest.freqHz,
    damping: Math.min(MOST_DAMPING, Math.max(LEAST_DAMPING, damping)),
    axes: AXES.filter((axis) => rings.some((peak) => peak.axis === axis)),
  };
}

/**
 * Transmissibility of a mass on a spring and damper over a shaken foot, at least 1: far above its resonance a mount quiets the
 * camera, but by how much a pass that drowns in noise there cannot tell.
 *
 * Textbook formula: sqrt((1 + (2 z r)^2) / ((1 - r^2)^2 + (2 z r)^2)), r the frequency over the resonance, z the damping.
 */
export function mountGain({ freqHz, damping }: RingingMount, atHz: number): number {
  const r = atHz / freqHz;
  const damped = (2 * damping * r) ** 2;
  return Math.max(1, Math.sqrt((1 + damped) / ((1 - r * r) ** 2 + damped)));
}

/** The motion with the axes that a mount shows times a gain, an amplitude ratio over the frequency in Hz; phases stay. */
export function filteredAtMount(
  motion: Motion,
  { axes }: RingingMount,
  gainAt: (freqHz: number) => number,
): Motion {
  return withVibration(
    motion,
    sixAxes((axis) => {
      const series = motion.vibration[axis];
      if (!axes.includes(axis)) return series;
      const { re, im } = realFft(series);
      const cellHz = motion.rateHz / series.length;
      for (let k = 0; k < re.length; k++) {
        const gain = gainAt(k * cellHz);
        re[k] *= gain;
        im[k] *= gain;
      }
      return inverseRealFft(re, im, series.length);
    }),
  );
}
