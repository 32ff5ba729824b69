/** Ticks of axles that meet joints and steps: when, and how loud over a joint of one millimetre at 0.3 m/s. */
import { PROFILE_SPACING_M, type LaidOnFloor } from '../laid-on-floor.js';
import type { DeckOptions } from '../options.js';

/** One tick. */
export interface Tick {
  readonly timeS: number;
  readonly loudness: number;
}

const REFERENCE_MPS = 0.3;
/** Times between which the way is taken as straight, seconds. */
const STEP_S = 0.01;

/** Depth to which a wheel sinks between the edges of a gap that it bridges, metres: w^2 / 8 r, no deeper than the gap. */
function sunkM({ floor, wheelRadiusM }: DeckOptions): number {
  if (!floor.joints) return 0;
  const widthM = Math.max(floor.joints.gapWidthMm / 1000 - PROFILE_SPACING_M, 0);
  return Math.min(floor.joints.gapDepthMm / 1000, widthM ** 2 / (8 * wheelRadiusM));
}

/**
 * Ticks of a pass, each axle's by itself.
 *
 * @param travelAt way of the rear axle from time 0, metres, not falling
 */
export function jointTicks(
  deck: DeckOptions,
  { joints, steps }: LaidOnFloor,
  travelAt: (timeS: number) => number,
  durationS: number,
): Tick[] {
  const places = [
    ...joints.map((joint) => ({ ...joint, sunkM: sunkM(deck) })),
    ...steps.map((step) => ({ ...step, sunkM: 0 })),
  ];
  const axles = [0, deck.wheelbaseM].flatMap((aheadM) =>
    places.map(({ atM, leftStepM, rightStepM, sunkM: depthM }) => ({
      atM: atM - aheadM,
      heightMm: 1000 * (depthM + (Math.abs(leftStepM) + Math.abs(rightStepM)) / 2),
    })),
  );
  const ticks: Tick[] = [];
  for (let k = 0; k * STEP_S < durationS; k++) {
    const [from, to] = [travelAt(k * STEP_S), travelAt((k + 1) * STEP_S)];
    for (const { atM, heightMm } of axles) {
      if (!(atM >= from && atM < to)) continue;
      const timeS = (k + (atM - from) / (to - from)) * STEP_S;
      ticks.push({ timeS, loudness: (Math.sqrt(heightMm) * (to - from)) / STEP_S / REFERENCE_MPS });
    }
  }
  return ticks.sort((a, b) => a.timeS - b.timeS);
}
