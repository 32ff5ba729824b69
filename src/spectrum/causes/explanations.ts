/**
 * How likely one source is under each thing that may shake: densities over the frequency seen, 1/Hz, for every error that the speed
 * may have. Own derivation.
 */
import { aliasedFrequencyHz, exposureGain } from '../../optics/index.js';
import type { SightingGroup } from './group-sightings.js';
import type { NamingRules } from './naming-rules.js';
import type { SpeedErrors } from './speed-errors.js';
import type { CauseName, KnownCauses, ObservedBand } from './types.js';

/** One thing that may shake, at one multiple. */
export interface Explanation {
  readonly cause: CauseName;
  readonly order: number;
  /** Frequency of the motion at the speed as given, before frames fold it. */
  readonly expectedHz: number;
  /** Standard deviation of where it is expected to be seen, error of the speed apart. */
  readonly sdHz: number;
  /** Whether the frequency moves with the speed, so that it tells of it. */
  readonly tellsSpeed: boolean;
  /** One value for each speed error; the weight within its class is in it. */
  readonly density: Float64Array;
}

/** A share of resonances passes for lines and the other way round, whatever the shape says. */
const SHAPE_SLIP = 0.02;
/** That share of what is unlisted are lines: a resonance rarely is. */
const UNLISTED_LINES = 0.85;
/** Share of the unlisted lines that come from the floor or from parts that roll. */
const UNLISTED_ROLL = 0.3;
/** Tolerance of the joints' spacing counts up to this multiple: beyond it neighbouring teeth would blur into one. */
const JOINT_SD_ORDERS = 10;
/** The pace is read from the clip and has errors of its own: it can prove a constant wavelength, and only speak against one. */
const LEAST_FOLLOWING = 0.2;
/** A motion behind a shutter that lets less through is seen only because it is huge. */
const LEAST_GAIN = 0.1;
/** Where the crew knows the mount, that share of what rings is it. */
const KNOWN_MOUNT_SHARE = 0.7;

/** Everything that may explain `source`; the weights of the classes themselves are left to the pass as a whole. */
export function explanationsOf(
  source: SightingGroup,
  known: KnownCauses,
  band: ObservedBand,
  speeds: SpeedErrors,
  rules: NamingRules,
): Explanation[] {
  const { rateHz } = band;
  const { freqSdHz } = source;
  const found: Explanation[] = [];
  const broad = source.broadProbability;
  const line = 1 - broad + SHAPE_SLIP;
  const rolls = Math.max(source.followsTravel ?? 0.5, LEAST_FOLLOWING);
  const constant = 1 - rolls;

  const add = (
    cause: CauseName,
    order: number,
    expectedHz: number,
    sdHz: number,
    weight: number,
    tellsSpeed = false,
  ): void => {
    const density = speeds.errors.map((error) => {
      const trueHz = tellsSpeed ? expectedHz * (1 + error) : expectedHz;
      return weight * normalDensity(source.freqHz - aliasedFrequencyHz(trueHz, rateHz), sdHz);
    });
    found.push({ cause, order, expectedHz, sdHz, tellsSpeed, density: shared(density, speeds, rules) });
  };
  const addFlat = (cause: CauseName, density: number, expectedHz = source.freqHz, sdHz = Infinity): void => {
    const flat = new Float64Array(speeds.errors.length).fill(density);
    found.push({ cause, order: 1, expectedHz, sdHz, tellsSpeed: false, density: flat });
  };
  const passes = (trueHz: number): number => Math.max(exposureGain(trueHz, band.exposureS), LEAST_GAIN);

  const { speedMps, wheelDiameterM, joint } = known;
  if (speedMps !== null && wheelDiameterM !== null) {
    rules.wheelOrders.forEach((weight, i) => {
      const hz = wheelTurnHz(speedMps, wheelDiameterM) * (i + 1);
      const sdHz = Math.hypot(freqSdHz, rules.wheelSdShare * hz);
      add('wheel', i + 1, hz, sdHz, weight * passes(hz) * line * rolls, true);
    });
  }
  if (speedMps !== null && joint !== null) {
    const beatHz = jointBeatHz(speedMps, joint.spacingM);
    const last = Math.min(rules.jointOrdersUpTo, jointTeeth(beatHz, rateHz, rules));
    const share = Math.hypot(rules.jointSdShare, joint.sdShare);
    for (let order = 1; order <= last; order++) {
      const sdHz = Math.hypot(freqSdHz, share * beatHz * Math.min(order, JOINT_SD_ORDERS));
      // A spacing that this pass showed was scaled by the same speed: beats stay where they are whatever its error.
      add('joint', order, beatHz * order, sdHz, (line * rolls) / last, joint.source === 'given');
    }
  }
  known.machinesHz.forEach((hz, i) => {
    const sdHz = Math.hypot(freqSdHz, rules.machineSdShare * hz);
    add('machine', i + 1, hz, sdHz, (passes(hz) * line * constant) / known.machinesHz.length);
  });
  known.lampsHz.forEach((hz, i) => {
    add('lamp', i + 1, hz, Math.hypot(freqSdHz, rules.lampSdHz), (line * constant) / known.lampsHz.length);
  });
  addMount();
  const unlisted = UNLISTED_ROLL * rolls + (1 - UNLISTED_ROLL) * constant;
  const ripple = source.sightings.every(({ peak }) => peak.mayBeRipple) ? rules.rippleWeight : 1;
  addFlat('unknown', (ripple * unlisted * (1 - UNLISTED_LINES * broad)) / (band.bandHz[1] - band.bandHz[0]));
  return found;

  function addMount(): void {
    const [fromHz, toHz] = rules.mountBandHz;
    const inBand = source.freqHz > fromHz && source.freqHz < toHz;
    const anywhere = inBand ? 1 / (toHz - fromHz) : 0;
    const shaped = (density: number): number => density * (broad + SHAPE_SLIP) * constant;
    if (known.mountHz === null) {
      if (inBand) addFlat('mount', shaped(anywhere));
      return;
    }
    const sdHz = Math.hypot(freqSdHz, rules.mountSdShare * known.mountHz);
    const there = normalDensity(source.freqHz - aliasedFrequencyHz(known.mountHz, rateHz), sdHz);
    const density = KNOWN_MOUNT_SHARE * there + (1 - KNOWN_MOUNT_SHARE) * anywhere;
    if (there > anywhere) addFlat('mount', shaped(density), known.mountHz, sdHz);
    else addFlat('mount', shaped(density));
  }
}

/** Turns of a wheel per second: v / (pi D). */
export function wheelTurnHz(speedMps: number, diameterM: number): number {
  return speedMps / (Math.PI * diameterM);
}

/** Joints met per second by one wheel: v / spacing. */
export function jointBeatHz(speedMps: number, spacingM: number): number {
  return speedMps / spacingM;
}

function jointTeeth(beatHz: number, rateHz: number, rules: NamingRules): number {
  return Math.floor((rules.jointTopNyquists * rateHz) / 2 / beatHz) + 1;
}

function normalDensity(offHz: number, sdHz: number): number {
  return Math.exp(-0.5 * (offHz / sdHz) ** 2) / (sdHz * Math.sqrt(2 * Math.PI));
}

/** With a speed of its own each source sees its density averaged over the speeds. */
function shared(density: Float64Array, { prior }: SpeedErrors, rules: NamingRules): Float64Array {
  if (rules.sharedSpeed) return density;
  let mean = 0;
  for (let i = 0; i < density.length; i++) mean += prior[i] * density[i];
  return density.fill(mean);
}
