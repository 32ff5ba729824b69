/** The surface as the run document holds it: roughness in m^3, heights in mm, wavelengths in m; null where nothing stands. */
import type { SurfaceSection } from '../run/index.js';
import { bandRmsM, flatnessFF } from './roughness/road-profile.js';
import { surfaceClass } from './roughness/surface-class.js';
import type { Surface } from './types.js';

const TWO_SIDED_95 = 1.96;
const MM_PER_M = 1000;

/**
 * The surface section of a run.
 *
 * `profileRmsMm` is the height of a w = 2 floor of the fitted roughness between the wavelengths given, in closed form, not of a
 * measured profile. `isoClass` is ISO 8608-style: fitted to centimetres and decimetres, where the standard takes 0.35-91 m. With
 * `atMost` (`atLeast`), `psdAt01CyclesPerM` is an upper (lower) bound and class, interval, height and flatness are null.
 */
export function surfaceSection({ grade, reason }: Surface): SurfaceSection {
  const nothing = {
    profileRmsMm: null,
    psdCi95: null,
    parts: null,
    waviness: null,
    wavinessCi95: null,
    isoClass: null,
    ci95Class: null,
    isoClassAsRolled: null,
    spoken: null,
    flatnessFF: null,
    flatness: null,
    straightedges: [],
    rail: null,
    texture: null,
    wavelengthBands: [],
    profile: null,
    distanceRangePercent: null,
    joints: null,
    bumps: [],
    predictions: [],
  };
  if (grade === null) {
    return {
      ...nothing,
      observable: false,
      reason,
      wavelengthsM: null,
      psdAt01CyclesPerM: null,
      psdAsRolled: null,
      atMost: false,
      atLeast: false,
    };
  }
  const { gdM3, sdLn, atMost, atLeast } = grade;
  const [shortestM, longestM] = grade.wavelengthsM;
  const common = {
    observable: true,
    reason,
    wavelengthsM: [shortestM, longestM] as [number, number],
    psdAt01CyclesPerM: gdM3,
    psdAsRolled: grade.gdAsRolledM3,
    atMost,
    atLeast,
  };
  if (atMost || atLeast) return { ...nothing, ...common };
  const low = gdM3 * Math.exp(-TWO_SIDED_95 * sdLn);
  const high = gdM3 * Math.exp(TWO_SIDED_95 * sdLn);
  return {
    ...nothing,
    ...common,
    profileRmsMm: MM_PER_M * bandRmsM(gdM3, 1 / longestM, 1 / shortestM),
    psdCi95: [low, high],
    waviness: grade.waviness?.waviness ?? null,
    isoClass: surfaceClass(gdM3).name,
    ci95Class: [surfaceClass(low).name, surfaceClass(high).name],
    flatnessFF: flatnessFF(gdM3),
  };
}
