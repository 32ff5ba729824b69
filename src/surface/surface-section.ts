/** The surface as the run document holds it: roughness in m^3, heights in mm, places in m; null where nothing stands. */
import { TWO_SIDED_95 } from '../numerics/index.js';
import type { SurfaceSection } from '../run/index.js';
import { otherSetupTexts } from '../texts/index.js';
import { floorFromSurface } from './predict/floor-from-surface.js';
import { predictionsSection } from './predict/predictions-section.js';
import { predictSetups } from './predict/predict-setups.js';
import { bandRmsM, flatnessFF } from './roughness/road-profile.js';
import type { RoughnessGrade } from './roughness/roughness-grade.js';
import { surfaceClass } from './roughness/surface-class.js';
import { bumpsSection, jointsSection, profileSection } from './found-section.js';
import {
  bandsSection,
  flatnessSection,
  railSection,
  straightedgesSection,
  textureSection,
} from './grades-section.js';
import type { Surface, SurfaceDetail } from './types.js';

const MM_PER_M = 1000;
const PER_CENT = 100;

const NOTHING: Omit<SurfaceSection, 'observable' | 'reason'> = {
  wavelengthsM: null,
  profileRmsMm: null,
  psdAt01CyclesPerM: null,
  psdAsRolled: null,
  psdCi95: null,
  atMost: false,
  atLeast: false,
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

/**
 * The surface section of a run.
 *
 * `profileRmsMm` is the height of a w = 2 floor of the fitted roughness between the wavelengths given, in closed form, not of the
 * profile. `isoClass` is ISO 8608-style: fitted to centimetres and decimetres, where the standard takes 0.35-91 m. With `atMost` or
 * `atLeast`, `psdAt01CyclesPerM` is a bound and class, interval, height and flatness are null.
 */
export function surfaceSection({ grade, detail, reason }: Surface): SurfaceSection {
  if (grade === null || detail === null) return { ...NOTHING, observable: false, reason };
  const [shortestM, longestM] = grade.wavelengthsM;
  const section = {
    ...NOTHING,
    observable: true,
    reason,
    wavelengthsM: [shortestM, longestM] as [number, number],
    psdAt01CyclesPerM: grade.gdM3,
    psdAsRolled: grade.gdAsRolledM3,
    atMost: grade.atMost,
    atLeast: grade.atLeast,
    parts: grade.atMost ? null : partsOf(grade, detail),
    ...detailSection(detail),
    ...(grade.atMost || grade.atLeast ? {} : classSection(grade, detail)),
  };
  return { ...section, predictions: predictionsOf(section, detail) };
}

function classSection(grade: RoughnessGrade, { flatness }: SurfaceDetail) {
  const { gdM3, sdLn, gdAsRolledM3, waviness, wavelengthsM } = grade;
  const low = gdM3 * Math.exp(-TWO_SIDED_95 * sdLn);
  const high = gdM3 * Math.exp(TWO_SIDED_95 * sdLn);
  const [shortestM, longestM] = wavelengthsM;
  return {
    profileRmsMm: MM_PER_M * bandRmsM(gdM3, 1 / longestM, 1 / shortestM),
    psdCi95: [low, high] as [number, number],
    waviness: waviness?.waviness ?? null,
    wavinessCi95:
      waviness &&
      ([waviness.waviness - TWO_SIDED_95 * waviness.sd, waviness.waviness + TWO_SIDED_95 * waviness.sd] as [
        number,
        number,
      ]),
    isoClass: surfaceClass(gdM3).name,
    ci95Class: [surfaceClass(low).name, surfaceClass(high).name] as [string, string],
    isoClassAsRolled: gdAsRolledM3 === null ? null : surfaceClass(gdAsRolledM3).name,
    flatnessFF: flatnessFF(gdM3),
    flatness: flatness && flatnessSection(flatness),
  };
}

function partsOf(grade: RoughnessGrade, { levels }: SurfaceDetail): SurfaceSection['parts'] {
  return {
    meanTrackM3: levels.meanTrackM3,
    differenceM3: levels.differenceM3,
    sdLn: grade.sdLn,
    contactCyclesPerM: grade.contactCyclesPerM,
    speedMps: grade.speedMps,
  };
}

function detailSection(detail: SurfaceDetail) {
  const { spoken } = detail;
  return {
    spoken: spoken && { ...spoken },
    straightedges: straightedgesSection(detail.straightedges),
    rail: detail.rail && railSection(detail.rail),
    texture: detail.texture && textureSection(detail.texture),
    wavelengthBands: bandsSection(detail.bands),
    profile: detail.profile && profileSection(detail.profile),
    distanceRangePercent: PER_CENT * detail.distanceRange,
    joints: detail.row && jointsSection(detail.row, detail.events),
    bumps: bumpsSection(detail.events),
  };
}

/** The line of another surface where this pass only bounds its own. */
function untold(label: string): SurfaceSection['predictions'][number] {
  return {
    change: 'surface',
    label,
    pitchMdegRms: null,
    rollMdegRms: null,
    shakePxRms: null,
    ratio: null,
    largestKickPx: null,
    assumes: '',
    reason: otherSetupTexts.ownBoundAlone,
  };
}

function predictionsOf(section: SurfaceSection, detail: SurfaceDetail): SurfaceSection['predictions'] {
  const { measured, present, runLengthM, otherSurfaces } = detail;
  const floor = floorFromSurface(section, { runLengthM, measured });
  if (floor === null) return otherSurfaces.map(({ name }) => untold(name));
  const surfaces = otherSurfaces.map(({ name, surface }) => ({ name, floor: floorFromSurface(surface) }));
  return predictionsSection(predictSetups(floor, present, { surfaces }));
}
