/** The made-up passes that grades and lists of floors are tested on: floors of known roughness and joints, filmed from a deck. */
import type { PartialSynthOptions } from '../../src/synth/index.js';
import type { Pass } from './accuracy.js';

/** Middle of three classes, Gd(n0) in m^3, with the lippage of their joints: enough that their steps stand out of such a floor. */
export const FLOORS = {
  A: { gdM3: 1.6e-5, lippageMm: 1 },
  'A-2': { gdM3: 1e-6, lippageMm: 0.35 },
  'A-4': { gdM3: 6.25e-8, lippageMm: 0.35 },
} as const;

export type FloorClass = keyof typeof FLOORS;

/** What is varied. */
export interface FloorVariant {
  readonly floorClass: FloorClass;
  /** Spacing of the joints, m; 0 for none. */
  readonly jointsM: 0 | 0.3 | 0.6;
  readonly speedMps: 0.25 | 0.5;
  readonly wheelbaseM: 0.45 | 0.9;
  readonly wheel: 'hard' | 'soft';
  readonly view: 'ahead' | 'sideways';
}

/** A pass over a floor with what is true of it. */
export interface FloorPass extends FloorVariant {
  readonly pass: Pass;
}

const WHEELS = {
  hard: { wheelRadiusM: 0.04, contactPatchM: 0.004 },
  soft: { wheelRadiusM: 0.1, contactPatchM: 0.045 },
} as const;

const VIEWS: Readonly<Record<FloorVariant['view'], PartialSynthOptions>> = {
  ahead: { move: 'pushIn', scene: 'tiled-corridor', focalLengthMm: 28 },
  sideways: { move: 'lateral', scene: 'dairy-hall', focalLengthMm: 28 },
};

/** Parts of a frame, with as many instants as the shake up to half the frame rate needs. */
const HALF = { shutterAngleDeg: 180, motionSamples: 4 } as const;
const QUARTER = { shutterAngleDeg: 90, motionSamples: 2 } as const;
const EIGHTH = { shutterAngleDeg: 45, motionSamples: 1 } as const;

/**
 * Joints want the longer exposure, for steps shake beyond half the frame rate as well. Seen with shorter ones: A-2 with joints is read as
 * A-3 at an eighth of a frame; at a quarter, joints of A-4 passed slowly are listed at their places but not taken for a row.
 */
function shutterOf({ floorClass, jointsM, speedMps }: FloorVariant): PartialSynthOptions {
  if (floorClass === 'A-2' && jointsM === 0) return EIGHTH;
  return floorClass === 'A-4' && jointsM > 0 && speedMps === 0.25 ? HALF : QUARTER;
}

/** Joints of a row that a pass must meet: five, so that a row of four would still be one if a joint were missed. */
const JOINTS_MET = 5;
const LEAST_S = 8;

/** Films a variant: 960 x 540, 25 frames/s, in grey, as long as it takes to meet enough joints. */
export function floorPass(variant: FloorVariant): FloorPass {
  const { floorClass, jointsM, speedMps, wheelbaseM, wheel, view } = variant;
  const { gdM3, lippageMm } = FLOORS[floorClass];
  const joints = jointsM === 0 ? null : { spacingM: jointsM, lippageMm, gapWidthMm: 4, gapDepthMm: 2 };
  const words = [floorClass, `joints${jointsM * 100}`, `${speedMps * 100}cms`, `${wheelbaseM * 100}cm`];
  return {
    ...variant,
    pass: {
      ...VIEWS[view],
      name: `floor-${[...words, wheel, view].join('-')}`,
      // One floor for all passes over a class.
      seed: { A: 61, 'A-2': 62, 'A-4': 63 }[floorClass],
      durationS: Math.max(LEAST_S, Math.ceil((JOINTS_MET * jointsM - wheelbaseM) / speedMps)),
      fps: 25,
      widthPx: 960,
      heightPx: 540,
      speedMps,
      cameraHeightM: 1,
      driftDeg: 0,
      colour: false,
      ...shutterOf(variant),
      noiseGrey: 0.4,
      deck: { ...WHEELS[wheel], wheelbaseM, floor: { gdM3, joints } },
    },
  };
}

/**
 * Eight passes in which every value of each of class, joints (none or a row), speed, wheelbase, wheel and view meets every value of
 * each of the others; the floors with joints of are driven at both speeds.
 */
export const FLOOR_PASSES: readonly FloorPass[] = (
  [
    ['A', 0, 0.5, 0.9, 'soft', 'sideways'],
    ['A', 0.3, 0.25, 0.45, 'hard', 'ahead'],
    ['A-2', 0, 0.25, 0.45, 'hard', 'sideways'],
    ['A-2', 0.3, 0.25, 0.45, 'soft', 'sideways'],
    ['A-2', 0.3, 0.5, 0.9, 'hard', 'ahead'],
    ['A-4', 0, 0.5, 0.9, 'soft', 'ahead'],
    ['A-4', 0.6, 0.25, 0.9, 'hard', 'ahead'],
    ['A-4', 0.6, 0.5, 0.45, 'soft', 'sideways'],
  ] as const
).map(([floorClass, jointsM, speedMps, wheelbaseM, wheel, view]) =>
  floorPass({ floorClass, jointsM, speedMps, wheelbaseM, wheel, view }),
);
