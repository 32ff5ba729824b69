/**
 * The made-up passes that naming of causes is tested on: one known cause each, two at once, and none, at three speeds.
 *
 * Each is 10 s at 25 frames/s, 640 x 360, down a corridor on a rigid dolly, so that its tilt is the pitch of the deck.
 */
import type { CauseName } from '../../src/spectrum/causes/types.js';
import type { PartialSynthOptions } from '../../src/synth/index.js';

/** What is wrong with a pass. */
export const CAUSE_KINDS = ['wheel', 'joints', 'mount', 'motor', 'broadband', 'two'] as const;
export type CauseKind = (typeof CAUSE_KINDS)[number];

/** Speeds of the passes, m/s. */
export const CAUSE_SPEEDS_MPS = [0.2, 0.35, 0.5] as const;
export type CauseSpeed = (typeof CAUSE_SPEEDS_MPS)[number];

/** A pass with what is true of it. */
export interface CausePass {
  readonly kind: CauseKind;
  readonly speedMps: CauseSpeed;
  readonly pass: PartialSynthOptions & { readonly name: string };
  /** Causes that a source of the measurement may be named after, each of which must be. */
  readonly causes: readonly CauseName[];
}

const WHEEL_RADIUS_M = 0.025;
const JOINT_SPACING_M = 0.3;
/** Beyond half the frame rate: frames show it at 6 Hz. */
const MOTOR_HZ = 31;
const MOUNT_HZ = 7.1;

/** What the crew writes down for all passes alike, whatever is wrong: a name must not come from the list alone. */
export const CREW_KNOWS = { jointSpacingM: JOINT_SPACING_M, machinesHz: [MOTOR_HZ] };

/** Gd(n0) of the floors, m^3: smooth, and rough enough to make a mount ring. */
const FLOOR = { smooth: 2.5e-7, rough: 4e-6 };

/**
 * Each cause by itself: a tenth of a pixel and more in clips this small, because predicted pictures swallow half of a shake below a
 * twentieth. That is far above the strength that a line needs to be found (rho of 30).
 */
const PARTS = {
  // One wheel off its centre: 0.45 mm lift the nose by 28 thousandths of a degree.
  wheel: { lobes: [{ wheel: 'frontLeft', amplitudeMm: 0.45 }] },
  // Gaps alone, no lippage. Their edges lie between the millimetres of the floor, so that every joint dips alike.
  joints: { joints: { spacingM: JOINT_SPACING_M, lippageMm: 0, gapWidthMm: 15.6, gapDepthMm: 2 } },
  mount: { mount: { freqHz: MOUNT_HZ, dampingRatio: 0.03, gain: 0.4 } },
  motor: { machines: [{ freqHz: MOTOR_HZ, amplitudeDeg: { tilt: 0.018, roll: 0.009 } }] },
} as const;
type Part = keyof typeof PARTS;

const NAMES: Readonly<Record<Part, CauseName>> = {
  ...{ wheel: 'wheel', joints: 'joint', mount: 'mount', motor: 'machine' },
};

/** Another pair at each speed. */
const PAIRS: Readonly<Record<CauseSpeed, readonly Part[]>> = {
  0.2: ['wheel', 'motor'],
  0.35: ['joints', 'motor'],
  0.5: ['wheel', 'mount'],
};

function partsOf(kind: CauseKind, speedMps: CauseSpeed): readonly Part[] {
  if (kind === 'broadband') return [];
  return kind === 'two' ? PAIRS[speedMps] : [kind];
}

/** Makes a pass. */
export function causePass(kind: CauseKind, speedMps: CauseSpeed): CausePass {
  const parts = partsOf(kind, speedMps);
  const has = (part: Part): boolean => parts.includes(part);
  const rough = has('mount') || kind === 'broadband';
  return {
    ...{ kind, speedMps, causes: parts.map((part) => NAMES[part]) },
    pass: {
      name: `cause-${kind}-${100 * speedMps}cms`,
      // A floor of its own for each pass.
      seed: 200 + 10 * CAUSE_KINDS.indexOf(kind) + CAUSE_SPEEDS_MPS.indexOf(speedMps),
      ...{ scene: 'tiled-corridor', move: 'pushIn', focalLengthMm: 28, cameraHeightM: 1 },
      ...{ durationS: 10, fps: 25, widthPx: 640, heightPx: 360, colour: false },
      // A dolly on a motor keeps its pace to a few parts in a thousand.
      ...{ speedMps, speedWander: 0.003, driftDeg: 0, noiseGrey: 0.4 },
      // A quarter of the frame in three instants: of the machine, a third of whose period that is, they show 2 % more than all of it would.
      ...{ shutterAngleDeg: 90, motionSamples: 3 },
      ...(has('motor') ? { ...PARTS.motor, sound: true } : {}),
      deck: {
        wheelRadiusM: WHEEL_RADIUS_M,
        ...(has('wheel') ? PARTS.wheel : {}),
        ...(has('mount') ? PARTS.mount : {}),
        floor: { gdM3: rough ? FLOOR.rough : FLOOR.smooth, ...(has('joints') ? PARTS.joints : {}) },
      },
    },
  };
}

/**
 * The same pass exposed for an eighth of a frame, of which one instant holds all that frames can show: a third of the filming. Not for
 * joints at 0.5 m/s nor for wheel and motor at 0.2 m/s, which got a wrong name beside the right ones from so short an exposure.
 */
export function inOneInstant(one: CausePass): CausePass {
  return { ...one, pass: { ...one.pass, shutterAngleDeg: 45, motionSamples: 1 } };
}

/** All of them: six kinds at three speeds. */
export const CAUSE_PASSES: readonly CausePass[] = CAUSE_KINDS.flatMap((kind) =>
  CAUSE_SPEEDS_MPS.map((speedMps) => causePass(kind, speedMps)),
);
