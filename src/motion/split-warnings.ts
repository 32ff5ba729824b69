/** What a person should know about how a split came about: one warning each, with a stable code. */
import type { Warning } from '../run/index.js';
import { AXES } from '../run/index.js';
import { motionWarningTexts } from '../texts/index.js';
import { LONG_GAP_S, type EvenTime } from './even-time.js';
import { SPLIT_DEFAULTS, type ResolvedSplit } from './options.js';
import type { SceneDepth } from './types.js';

/** A stretch is weak when its noise is this many times the clip's. */
const WEAK = 3;
const STRETCH_S = 2;
/** Median scene distances outside this mean that travel or speed is wrong. */
const NEAREST_M = 0.15;
const FARTHEST_M = 300;
/** Travel and speed that differ by more than this do not belong to the same pass. */
const SPEED_TOLERANCE = 1.15;

/** Warns when the cut-off is not the one asked for. */
export function cutoffWarning(settings: ResolvedSplit, askedHz: number | undefined): Warning[] {
  const asked = askedHz ?? SPLIT_DEFAULTS.cutoffHz;
  if (settings.cutoffHz <= asked) return [];
  return [
    {
      code: 'motion-cutoff-raised',
      text: motionWarningTexts.cutoffRaised(settings.cutoffHz.toFixed(2), asked),
      atS: null,
    },
  ];
}

/** Warns of frames without a pose and of long gaps between those that have one. */
export function gapWarnings(dropped: readonly number[], timeS: Float64Array, time: EvenTime): Warning[] {
  const warnings: Warning[] = [];
  if (dropped.length > 0) {
    warnings.push({
      code: 'motion-lost-frames',
      text: motionWarningTexts.lostFrames(dropped.length),
      atS: timeS[dropped[0]],
    });
  }
  if (time.longestGapS > LONG_GAP_S) {
    warnings.push({
      code: 'motion-gap',
      text: motionWarningTexts.gap(time.longestGapS.toFixed(2)),
      atS: null,
    });
  }
  return warnings;
}

/** Warns of two-second stretches whose noise is far above the clip's. */
export function weakStretchWarnings(deviations: readonly Float64Array[], time: EvenTime): Warning[] {
  const length = Math.round(STRETCH_S * time.rateHz);
  const power = (column: Float64Array): number => column.reduce((sum, v) => sum + v * v, 0) / column.length;
  const middle = deviations.map((column) => {
    const sorted = column.slice().sort();
    return sorted[Math.floor(sorted.length / 2)] ** 2;
  });
  for (let from = 0; from + length <= time.timeS.length; from += length) {
    const weak = AXES.filter((_, a) => {
      const stretch = deviations[a].subarray(from, from + length);
      return middle[a] > 0 && power(stretch) > WEAK * WEAK * middle[a];
    });
    if (weak.length === 0) continue;
    const text = motionWarningTexts.weakStretch(Math.max(0, time.timeS[from]).toFixed(1), weak, WEAK);
    return [{ code: 'motion-weak-stretch', text, atS: time.timeS[from] }];
  }
  return [];
}

/** Warns when travel and speed contradict each other. */
export function speedWarning(speedRatio: number | null, speedMps: number | null): Warning[] {
  if (speedRatio === null || speedMps === null || Math.abs(Math.log(speedRatio)) < Math.log(SPEED_TOLERANCE))
    return [];
  return [
    {
      code: 'travel-speed-differ',
      text: motionWarningTexts.travelAndSpeedDiffer(
        (speedRatio * speedMps).toPrecision(2),
        speedMps.toPrecision(2),
      ),
      atS: null,
    },
  ];
}

/** Warns when travel or speed puts the scene at an absurd distance. */
export function scaleWarning(depth: SceneDepth | null, metric: boolean): Warning[] {
  if (!metric || !depth || (depth.median > NEAREST_M && depth.median < FARTHEST_M)) return [];
  return [
    {
      code: 'motion-scale-implausible',
      text: motionWarningTexts.scaleImplausible(depth.median.toPrecision(2)),
      atS: null,
    },
  ];
}
