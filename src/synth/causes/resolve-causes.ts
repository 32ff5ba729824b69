/** Completes what is wrong with a made-up pass and refuses what no pass can have. */
import type {
  LampOptions,
  MachineOptions,
  MountOptions,
  PartialLamps,
  PartialMachine,
  PartialMount,
  PartialWheelLobe,
  WheelChoice,
  WheelLobe,
} from './options.js';

const WHEELS: readonly WheelChoice[] = [
  ...(['frontLeft', 'frontRight', 'rearLeft', 'rearRight', 'front', 'rear', 'all'] as const),
];

/** Defaults of a lobe: both wheels of the front axle, off their centre. */
export const LOBE_DEFAULTS: Omit<WheelLobe, 'amplitudeMm'> = { wheel: 'front', perTurn: 1, phaseDeg: 0 };

/** Defaults of a mount. */
export const MOUNT_DEFAULTS: Omit<MountOptions, 'freqHz'> = {
  dampingRatio: 0.03,
  gain: 0.4,
  axes: ['pitch', 'roll'],
};

/** Default of the flicker: a lamp without smoothing. */
export const LAMP_DEFAULTS: Omit<LampOptions, 'freqHz'> = { depth: 0.3 };

/** Highest frequency of anything that shakes a camera here, Hz. */
const HIGHEST_HZ = 500;

function requireWithin(name: string, value: number, lowest: number, highest: number): void {
  if (!(value >= lowest && value <= highest))
    throw new RangeError(`${name} must lie in ${lowest}..${highest}, got ${value}`);
}

/** Completes lobes. @throws RangeError naming field, rule and value */
export function resolveLobes(given: readonly PartialWheelLobe[] = []): WheelLobe[] {
  return given.map((partial) => {
    const lobe = { ...LOBE_DEFAULTS, ...partial };
    if (!WHEELS.includes(lobe.wheel))
      throw new RangeError(`deck.lobes wheel must be one of ${WHEELS.join(', ')}, got "${lobe.wheel}"`);
    if (!(Number.isInteger(lobe.perTurn) && lobe.perTurn > 0))
      throw new RangeError(`deck.lobes perTurn must be whole and above 0, got ${lobe.perTurn}`);
    requireWithin('deck.lobes amplitudeMm', lobe.amplitudeMm, 0, 20);
    return lobe;
  });
}

/** Completes a mount. @throws RangeError naming field, rule and value */
export function resolveMount(given: PartialMount | null | undefined): MountOptions | null {
  if (!given) return null;
  const mount = { ...MOUNT_DEFAULTS, ...given };
  requireWithin('deck.mount freqHz', mount.freqHz, 0.1, HIGHEST_HZ);
  requireWithin('deck.mount dampingRatio', mount.dampingRatio, 0.001, 2);
  requireWithin('deck.mount gain', mount.gain, 0, 10);
  return mount;
}

/** Completes machines. @throws RangeError naming field, rule and value */
export function resolveMachines(given: readonly PartialMachine[] = []): MachineOptions[] {
  return given.map((partial) => {
    requireWithin('machines freqHz', partial.freqHz, 0.1, HIGHEST_HZ);
    return {
      freqHz: partial.freqHz,
      amplitudeDeg: { pan: 0, tilt: 0, roll: 0, ...partial.amplitudeDeg },
      amplitudeMm: { lateral: 0, vertical: 0, axial: 0, ...partial.amplitudeMm },
      phaseDeg: partial.phaseDeg ?? 0,
    };
  });
}

/** Completes lamps. @throws RangeError naming field, rule and value */
export function resolveLamps(given: PartialLamps | null | undefined): LampOptions | null {
  if (!given) return null;
  const lamps = { ...LAMP_DEFAULTS, ...given };
  requireWithin('lamps freqHz', lamps.freqHz, 1, 10_000);
  requireWithin('lamps depth', lamps.depth, 0, 1);
  return lamps;
}
