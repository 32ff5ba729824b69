/** What the rig, the floor of the clip and its light say beforehand of things that shake: hertz, m/s, metres. */
import type { Rig } from '../../run/index.js';
import type { KnownCauses } from './types.js';

/** A speed read from a motor, as a share of it (one standard deviation); common practice, no source. */
const SPEED_SD_SHARE = 0.02;
/** A travel measured with a tape over the time of the clip. */
const TRAVEL_SD_SHARE = 0.01;

/** Joints as the floor of this clip shows them. */
export interface SeenJoints {
  readonly spacingM: number;
  readonly spacingSdM: number;
}

/** How far the speed may be off, as a share of it (one standard deviation): by a tape less than by a motor. */
export function speedSdShare({ travelM }: Pick<Rig, 'travelM'>): number {
  return travelM === undefined ? SPEED_SD_SHARE : TRAVEL_SD_SHARE;
}

/**
 * What may be looked for in this pass. A spacing of joints that the crew gives wins over the one that the floor shows, since it
 * does not hang on the speed.
 *
 * @param speedMps mean speed under way; null when unknown
 * @param lampsHz where frames show the flicker of lamps
 */
export function knownCauses(
  rig: Rig,
  speedMps: number | null,
  seen: SeenJoints | null,
  lampsHz: readonly number[],
): KnownCauses {
  const { jointSpacingM, wheelDiameterM = null, machinesHz = [], mountHz = null } = rig;
  const found = seen && {
    spacingM: seen.spacingM,
    sdShare: seen.spacingSdM / seen.spacingM,
    source: 'found' as const,
  };
  return {
    speedMps,
    speedSdShare: speedSdShare(rig),
    wheelDiameterM,
    joint: jointSpacingM === undefined ? found : { spacingM: jointSpacingM, sdShare: 0, source: 'given' },
    machinesHz,
    mountHz,
    lampsHz,
  };
}
