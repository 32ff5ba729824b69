/** Simulated passes in which several causes shake at once, drawn by chance, with the truth beside them. */
import { gaussianRandom, seededRandom } from '../../../src/numerics/index.js';
import type {
  CauseName,
  KnownCauses,
  ObservedBand,
  ShakeSource,
} from '../../../src/spectrum/causes/types.js';
import type { LineAmplitude } from './line-strength.js';
import {
  PLAIN,
  simulatedPass,
  type Machine,
  type SimulatedAxis,
  type SimulatedPass,
} from './simulated-pass.js';

/** A cause as it was put in, and where frames show it. */
export interface TrueCause {
  readonly seenHz: number;
  readonly cause: CauseName;
}

/** A pass with its causes and what a crew would tell of it. */
export interface MixedPass {
  readonly pass: SimulatedPass;
  readonly truth: readonly TrueCause[];
  readonly known: KnownCauses;
  readonly band: ObservedBand;
}

const RATE_HZ = PLAIN.rateHz;
const SPACING_M = 0.3;
/** Given machines: one in the band, one that 25 frames a second fold to 6 Hz. */
const MACHINES_HZ = [7.4, 31];
const LOWEST_HZ = 1.3;
const STRENGTHS = [20, 40, 80];
/** Speed and wheelbase are told with errors of this size. */
const SPEED_SD = 0.02;
const WHEELBASE_SD_M = 0.003;
/** A resonance counts as found this near to its frequency, a line within 1.5 / T. */
const MOUNT_REACH = 0.1;
const LINE_CELLS = 1.5;
/** ... and one of a comb no further from its tooth than this share of their distance. */
const TOOTH_SHARE = 0.25;
/** Two causes nearer than this share of that are at one place, and neither counts. */
const SAME_PLACE = 0.67;

/** Amplitude of each wheel out of round over that of the axis, in the root mean square over phases by chance. */
const WHEEL_OVER_AXIS: Readonly<Record<SimulatedAxis, number>> = {
  tilt: PLAIN.wheelbaseM,
  roll: PLAIN.trackWidthM,
  vertical: 2,
};
/** Equal dips that all axes show: deeper under one side, where roll is looked at. */
const DIPS = { spacingM: SPACING_M, depthM: 0.0005, widthM: 0.012 };
const LEFT_SHARE: Readonly<Record<SimulatedAxis, number>> = { tilt: 0.5, roll: 0.85, vertical: 0.5 };

/** Draws a pass whose causes are seen on one axis. @param amplitude of that axis, for this speed and duration */
export function mixedPass(
  seed: number,
  speedMps: number,
  durationS: number,
  amplitude: LineAmplitude,
  axis: SimulatedAxis = 'tilt',
): MixedPass {
  const random = seededRandom(40_000 + seed * 17 + Math.round(speedMps * 100));
  const normal = gaussianRandom(random);
  const strength = (): number => STRENGTHS[Math.floor(random() * STRENGTHS.length)];
  const truth: TrueCause[] = [];
  const machines: Machine[] = [];
  const machine = (seenHz: number, trueHz: number, cause: CauseName): void => {
    machines.push({ freqHz: trueHz, amplitude: { [axis]: amplitude(seenHz, strength(), trueHz) } });
    truth.push({ seenHz, cause });
  };
  if (random() < 0.5) machine(MACHINES_HZ[0], MACHINES_HZ[0], 'machine');
  if (random() < 0.5) machine(MACHINES_HZ[1] - RATE_HZ, MACHINES_HZ[1], 'machine');
  const unlistedHz = 1.5 + 9.5 * random();
  if (random() < 0.5) machine(unlistedHz, unlistedHz, 'unknown');

  const turnHz = speedMps / (Math.PI * PLAIN.wheelDiameterM);
  const orders = [1, 2, 3, 4].filter((order) => order * turnHz > LOWEST_HZ);
  const lobes: { order: number; amplitudeM: number }[] = [];
  if (random() < 0.7) {
    while (lobes.length < 2 && orders.length > 0) {
      const [order] = orders.splice(Math.floor(random() * orders.length), 1);
      const amplitudeM = amplitude(order * turnHz, strength()) * WHEEL_OVER_AXIS[axis];
      lobes.push({ order, amplitudeM });
      truth.push({ seenHz: order * turnHz, cause: 'wheel' });
    }
  }
  const mount = {
    freqHz: 4 + 7 * random(),
    dampingRatio: 0.02 + 0.03 * random(),
    gain: 0.3 + 0.5 * random(),
  };
  // A mount that nods and sways hardly moves the lens up.
  const rings = random() < 0.5 && axis !== 'vertical';
  if (rings) truth.push({ seenHz: mount.freqHz, cause: 'mount' });
  const hasJoints = random() < 0.4;
  const beatHz = speedMps / SPACING_M;
  if (hasJoints)
    for (let order = 1; order * beatHz < 0.48 * RATE_HZ; order++)
      truth.push({ seenHz: order * beatHz, cause: 'joint' });

  const speedTold = 1 + SPEED_SD * normal();
  const pass = simulatedPass({
    seed: 20_000 + seed + Math.round(speedMps * 1000) * 1000,
    durationS,
    speedMps,
    machines,
    lobes,
    mount: rings ? mount : null,
    dips: hasJoints ? { ...DIPS, leftShare: LEFT_SHARE[axis] } : null,
    speedTold,
    wheelbaseToldM: PLAIN.wheelbaseM + WHEELBASE_SD_M * normal(),
    wander: 0.002,
  });
  return {
    pass,
    truth,
    known: {
      speedMps: speedMps * speedTold,
      speedSdShare: SPEED_SD,
      wheelDiameterM: PLAIN.wheelDiameterM,
      joint: { spacingM: SPACING_M, sdShare: 0, source: 'given' },
      machinesHz: MACHINES_HZ,
      mountHz: null,
      lampsHz: [],
    },
    band: {
      durationS,
      rateHz: RATE_HZ,
      bandHz: [1, 0.48 * RATE_HZ],
      exposureS: PLAIN.shutterShare / RATE_HZ,
    },
  };
}

/**
 * The cause that was put in where a source is seen: "none" where nothing was, null where two that differ stand at one place.
 */
export function trueCauseAt(
  source: ShakeSource,
  truth: readonly TrueCause[],
  durationS: number,
): CauseName | 'none' | null {
  const teeth = truth.filter(({ cause }) => cause === 'joint');
  const teethHz = teeth.length > 1 ? teeth[1].seenHz - teeth[0].seenHz : Infinity;
  const near = truth
    .map(({ seenHz, cause }) => {
      const reachHz = cause === 'mount' ? Math.max(0.25, MOUNT_REACH * seenHz) : LINE_CELLS / durationS;
      const reach = cause === 'joint' ? Math.min(reachHz, TOOTH_SHARE * teethHz) : reachHz;
      return { cause, off: Math.abs(source.freqHz - seenHz) / reach };
    })
    .sort((a, b) => a.off - b.off);
  const here = near.filter(({ cause, off }) => off <= SAME_PLACE && cause !== 'mount');
  if (new Set(here.map(({ cause }) => cause)).size > 1) return null;
  return near.length > 0 && near[0].off <= 1 ? near[0].cause : 'none';
}
