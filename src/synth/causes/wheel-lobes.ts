/** Heights of axles above a true wheel's, metres, from the way the wheels have rolled and the lobes on their rims. */
import type { WheelChoice, WheelLobe } from './options.js';

const CORNERS = ['frontLeft', 'frontRight', 'rearLeft', 'rearRight'] as const;

/** One of the four wheels. */
export type Corner = (typeof CORNERS)[number];

const ALSO: Readonly<Partial<Record<WheelChoice, readonly Corner[]>>> = {
  front: ['frontLeft', 'frontRight'],
  rear: ['rearLeft', 'rearRight'],
  all: CORNERS,
};

function isOn({ wheel }: WheelLobe, corner: Corner): boolean {
  return wheel === corner || (ALSO[wheel]?.includes(corner) ?? false);
}

/** Angle that a wheel has turned by in its lobe's wave, radians. */
export function lobePhaseRad({ perTurn, phaseDeg }: WheelLobe, wayM: number, radiusM: number): number {
  return (perTurn * wayM) / radiusM + (phaseDeg * Math.PI) / 180;
}

/** Gives the height of a wheel's axle over that of a true wheel after a way from time 0, metres; all wheels turn alike. */
export function makeLobes(
  lobes: readonly WheelLobe[],
  radiusM: number,
): (corner: Corner, wayM: number) => number {
  const byCorner = new Map(
    CORNERS.map((corner) => [corner, lobes.filter((lobe) => isOn(lobe, corner))] as const),
  );
  return (corner, wayM) => {
    let heightM = 0;
    for (const lobe of byCorner.get(corner) ?? [])
      heightM += (lobe.amplitudeMm / 1000) * Math.cos(lobePhaseRad(lobe, wayM, radiusM));
    return heightM;
  };
}
