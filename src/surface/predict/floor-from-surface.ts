/** A floor to predict from, out of the surface section of a run document: m^3, m; heights from mm. */
import { TWO_SIDED_95 } from '../../numerics/index.js';
import type { MeasuredShake, PredictedEvent, PredictedFloor } from './types.js';

const MM_PER_M = 1000;
/** Length of a run whose travel was not stored, seconds at its speed. */
const USUAL_RUN_S = 10;

/** What is read of a stored surface; any surface section of a run document has it. */
export interface StoredSurface {
  readonly atMost: boolean;
  readonly parts: {
    readonly meanTrackM3: number | null;
    readonly differenceM3: number | null;
    readonly sdLn: number;
    readonly contactCyclesPerM: number;
    readonly speedMps: number;
  } | null;
  readonly wavelengthsM: readonly [number, number] | null;
  readonly waviness: number | null;
  readonly wavinessCi95: readonly [number, number] | null;
  readonly profile: { readonly distanceM: readonly number[] } | null;
  readonly bumps: readonly {
    readonly kind: PredictedEvent['kind'];
    readonly atM: number;
    readonly heightMm: number;
    /** Half of the 95 % range. */
    readonly heightRangeMm: number;
    readonly leftMm: number | null;
    readonly rightMm: number | null;
    readonly lengthM: number;
  }[];
}

/** What the section itself does not hold. */
export interface StoredRun {
  /** Travel of the rear axle; without it the length of the profile, else ten seconds at its speed. */
  readonly runLengthM?: number | undefined;
  readonly measured?: MeasuredShake | null | undefined;
}

/**
 * The floor as stored.
 *
 * @returns null when the run found no level of its floor, or only an upper bound
 */
export function floorFromSurface(surface: StoredSurface, run: StoredRun = {}): PredictedFloor | null {
  const { parts, wavelengthsM, waviness, wavinessCi95, profile, bumps, atMost } = surface;
  if (parts === null || wavelengthsM === null || atMost) return null;
  const stretchM = profile === null ? undefined : lengthOf(profile.distanceM);
  return {
    meanTrackM3: parts.meanTrackM3,
    differenceM3: parts.differenceM3,
    sdLn: parts.sdLn,
    contactCyclesPerM: parts.contactCyclesPerM,
    wavelengthsM,
    waviness:
      waviness === null || wavinessCi95 === null
        ? null
        : { value: waviness, sd: (wavinessCi95[1] - wavinessCi95[0]) / (2 * TWO_SIDED_95) },
    runLengthM: run.runLengthM ?? stretchM ?? USUAL_RUN_S * parts.speedMps,
    events: bumps.map((bump) => ({
      kind: bump.kind,
      atM: bump.atM,
      heightM: bump.heightMm / MM_PER_M,
      heightSdM: bump.heightRangeMm / TWO_SIDED_95 / MM_PER_M,
      differenceM:
        bump.leftMm === null || bump.rightMm === null ? null : (bump.leftMm - bump.rightMm) / MM_PER_M,
      lengthM: bump.lengthM,
    })),
    measured: run.measured ?? null,
  };
}

function lengthOf(distanceM: readonly number[]): number | undefined {
  return distanceM.length > 1 ? distanceM[distanceM.length - 1] - distanceM[0] : undefined;
}
