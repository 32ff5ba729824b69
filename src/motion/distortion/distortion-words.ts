/** What a person should know of a lens whose distortion was found, or was not, in the clip. */
import { AXES, type Axis, type Warning } from '../../run/index.js';
import { axisDoubtTexts, distortionTexts } from '../../texts/index.js';
import { NO_EFFECT } from './distortion-effect.js';
import type { AxisEstimate, DistortionReport, UnreliableAxis } from '../types.js';

/**
 * A k1 above this may stand for a wrong focal length: a small one does on many clips (own trials), and a lens told as longer than it is
 * looks as if it drew lines inwards (k1 of +0.1 for 35 mm in place of 28), which wide lenses hardly ever do (common practice, no source).
 */
const LIKE_A_WRONG_FOCAL_LENGTH = -0.06;

/** Axes whose figure would change by more than its own interval within the interval of k1; all, when k1 has no interval. */
export function axesBentInDoubt(
  { source, state, rmsShare }: DistortionReport,
  axes: Readonly<Record<Axis, AxisEstimate>>,
): UnreliableAxis[] {
  if (source === 'found' && state === 'notMeasurable')
    return AXES.filter((axis) => axes[axis].status !== 'notObservable').map((axis) => ({
      axis,
      reason: axisDoubtTexts.lensBendsTooMuch(axis),
    }));
  if (!rmsShare || state === 'notNeeded') return [];
  return AXES.filter((axis) => {
    const { status, rms: value, ci95 } = axes[axis];
    if (status === 'notObservable' || value === null || !ci95) return false;
    const half = (ci95[1] - ci95[0]) / 2;
    return rmsShare[axis] > NO_EFFECT && rmsShare[axis] * value > half;
  }).map((axis) => ({
    axis,
    reason: axisDoubtTexts.lensMayBend(axis, Math.round(100 * rmsShare[axis])),
  }));
}

/** Tells a k1 that was found, and one that could matter and was not. */
export function distortionWarning(
  { source, k1, ci95, state }: DistortionReport,
  inDoubt: readonly UnreliableAxis[],
): Warning[] {
  const two = (value: number): string => value.toFixed(2).replace(/^-(0\.00)$/, '$1');
  if (state === 'corrected' && k1 !== null && ci95)
    return [
      {
        code: 'motion-distortion-found',
        text: [
          distortionTexts.found(two(k1), ci95[0].toFixed(3), ci95[1].toFixed(3)),
          ...mayBeFocalLength(k1),
        ].join(' '),
        atS: null,
      },
    ];
  if (state !== 'notMeasurable' || inDoubt.length === 0) return [];
  if (source === 'found')
    return [
      {
        code: 'motion-distortion-strong',
        text: [distortionTexts.strong, ...mayBeFocalLength(k1 ?? 0)].join(' '),
        atS: null,
      },
    ];
  return [
    {
      code: 'motion-distortion-unknown',
      text: distortionTexts.unknown,
      atS: null,
    },
  ];
}

function mayBeFocalLength(k1: number): string[] {
  return k1 > LIKE_A_WRONG_FOCAL_LENGTH ? [distortionTexts.mayBeFocalLength] : [];
}
