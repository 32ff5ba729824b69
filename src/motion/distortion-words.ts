/** What a person should know of a lens whose distortion was found, or was not, in the clip. */
import { AXES, type Axis, type Warning } from '../run/index.js';
import { NO_EFFECT } from './distortion-effect.js';
import type { AxisEstimate, DistortionReport, UnreliableAxis } from './types.js';

/** Axes whose figure would change by more than its own interval within the interval of k1. */
export function axesBentInDoubt(
  { state, rmsShare }: DistortionReport,
  axes: Readonly<Record<Axis, AxisEstimate>>,
): UnreliableAxis[] {
  if (!rmsShare || state === 'notNeeded') return [];
  return AXES.filter((axis) => {
    const { status, rms: value, ci95 } = axes[axis];
    if (status === 'notObservable' || value === null || !ci95) return false;
    const half = (ci95[1] - ci95[0]) / 2;
    return rmsShare[axis] > NO_EFFECT && rmsShare[axis] * value > half;
  }).map((axis) => ({
    axis,
    reason:
      `The lens may bend lines by more than this clip can tell: its distortion, which was not given, could change ${axis} ` +
      `motion by ${Math.round(100 * rmsShare[axis])} %.`,
  }));
}

/** Tells a k1 that was found, and one that could matter and was not. */
export function distortionWarning({ source, k1, ci95, state }: DistortionReport): Warning[] {
  const two = (value: number): string => value.toFixed(2).replace(/^-(0\.00)$/, '$1');
  if (source === 'found' && k1 !== null && ci95)
    return [
      {
        code: 'motion-distortion-found',
        text:
          `The points ask for a lens that bends lines (k1 about ${two(k1)}, ${ci95[0].toFixed(3)} to ${ci95[1].toFixed(3)}): ` +
          'figures are freed of it. Calibrate the lens once with "trundle lens".',
        atS: null,
      },
    ];
  if (state !== 'notMeasurable') return [];
  return [
    {
      code: 'motion-distortion-unknown',
      text:
        'The view is wide and the distortion of the lens was not given; this clip does not tell it well enough, and it could ' +
        'change the figures. Calibrate the lens once with "trundle lens".',
      atS: null,
    },
  ];
}
