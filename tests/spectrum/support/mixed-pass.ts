/** Simulated passes in which several causes shake at once, drawn by chance, with the truth beside them. */
import { gaussianRandom, seededRandom } from '../../../src/numerics/index.js';
import type {
  CauseName,
  KnownCauses,
  ObservedBand,
  ShakeSource,
} from '../../../src/spectrum/causes/types.js';
import type { LineAmplitude } from './line-strength.js';
import { PLAIN, simulatedPass, type Machine, type SimulatedPass } from './simulated-pass.js';

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
/** Two causes nearer than this share of that are at one place, and neither counts. */
const SAME_PLACE = 0.67;

/** Draws a pass. @param amplitude of tilt, for this speed and duration */
export function mixedPass(
  seed: number,
  speedMps: number,
  durationS: number,
  amplitude: LineAmplitude,
): MixedPass {
  const random = seededRandom(40_000 + seed * 17 + Math.round(speedMps * 100));
  const normal = gaussianRandom(random);
  const strength = (): number => STRENGTHS[Math.floor(random() * STRENGTHS.length)];
  const truth: TrueCause[] = [];
  const machines: Machine[] = [];
  const machine = (seenHz: number, trueHz: number, cause: CauseName): void => {
    machines.push({ freqHz: trueHz, amplitude: { tilt: amplitude(seenHz, strength(), trueHz) } });
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
      // Both axles with phases by chance: sqrt(2) of one in the root mean square.
      const amplitudeM = (amplitude(order * turnHz, strength()) * PLAIN.wheelbaseM) / Math.SQRT2;
      lobes.push({ order, amplitudeM });
      truth.push({ seenHz: order * turnHz, cause: 'wheel' });
    }
  }
  const mount = {
    freqHz: 4 + 7 * random(),
    dampingRatio: 0.02 + 0.03 * random(),
    gain: 0.3 + 0.5 * random(),
  };
  const rings = random() < 0.5;
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
    dips: hasJoints ? { spacingM: SPACING_M, depthM: 0.0005, widthM: 0.012 } : null,
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
  const near = truth
    .map(({ seenHz, cause }) => {
      const reach = cause === 'mount' ? Math.max(0.25, MOUNT_REACH * seenHz) : LINE_CELLS / durationS;
      return { cause, off: Math.abs(source.freqHz - seenHz) / reach };
    })
    .sort((a, b) => a.off - b.off);
  const here = near.filter(({ cause, off }) => off <= SAME_PLACE && cause !== 'mount');
  if (new Set(here.map(({ cause }) => cause)).size > 1) return null;
  return near.length > 0 && near[0].off <= 1 ? near[0].cause : 'none';
}
