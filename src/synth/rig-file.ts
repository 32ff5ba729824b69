/** The rig of a made-up pass, as a crew would write it down. */
import type { Rig } from '../run/index.js';
import type { SynthOptions } from './options.js';

/** Rig with the names of rig files; a head that drifts is an operated one; the deck's figures where there is a deck, speed and travel where the camera moves; what rings and rolls out of round is left to be found. */
export function rigOf(options: SynthOptions, travelM: number): Rig {
  const { deck } = options;
  const moves = options.speedMps > 0;
  return {
    focalLengthMm: options.focalLengthMm,
    sensorWidthMm: options.sensorWidthMm,
    readoutMs: options.readoutMs,
    shutterAngleDeg: options.shutterAngleDeg,
    head: options.driftDeg === 0 ? 'locked' : 'operated',
    cameraHeightM: options.cameraHeightM,
    ...(moves
      ? {
          travelM: Number(travelM.toFixed(4)),
          speedMps: options.speedMps,
          lensAzimuthDeg: options.lensAzimuthDeg,
        }
      : {}),
    ...(deck
      ? {
          wheelbaseM: deck.wheelbaseM,
          trackWidthM: deck.trackWidthM,
          wheelDiameterM: 2 * deck.wheelRadiusM,
          cameraOffsetM: deck.cameraOffsetM,
          ...(deck.floor.joints ? { jointSpacingM: deck.floor.joints.spacingM } : {}),
        }
      : {}),
    ...(options.machines.length > 0 ? { machinesHz: options.machines.map(({ freqHz }) => freqHz) } : {}),
    ...mainsOf(options),
    ...(options.lensK1 === 0 ? {} : { lensDistortion: { k1: options.lensK1, k2: 0, p1: 0, p2: 0, k3: 0 } }),
  };
}

/** Lamps flicker at twice the frequency of their mains. */
function mainsOf({ lamps }: SynthOptions): Pick<Rig, 'mainsHz'> {
  if (lamps?.freqHz === 100) return { mainsHz: 50 };
  return lamps?.freqHz === 120 ? { mainsHz: 60 } : {};
}
