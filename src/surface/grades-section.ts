/** The published grades as the run document holds them: heights in mm, spacings in m, levels in dB. */
import type { SurfaceSection } from '../run/index.js';
import type { Flatness } from './grades/flatness.js';
import type { RailComparison } from './grades/rail-limit.js';
import type { Straightedge } from './grades/straightedge.js';
import type { Texture } from './grades/texture.js';
import type { WavelengthBand } from './grades/wavelength-bands.js';

const MM_PER_M = 1000;

/** Floor flatness. */
export function flatnessSection(flatness: Flatness): SurfaceSection['flatness'] {
  return {
    equivalentFF: flatness.equivalentFF,
    equivalentAsRolledFF: flatness.equivalentAsRolledFF,
    profileFF: flatness.profileFF,
    band: flatness.band,
    reason: flatness.reason,
    readings: flatness.readings,
    spacingM: flatness.spacingM,
    curvatureMeanMm: millimetres(flatness.curvatureMeanM),
    curvatureSdMm: millimetres(flatness.curvatureSdM),
    heldShare: flatness.heldShare,
    change95Mm: millimetres(flatness.change95M),
    freeMovement: flatness.freeMovement,
  };
}

/** Gaps under straightedges. */
export function straightedgesSection(gaps: readonly Straightedge[]): SurfaceSection['straightedges'] {
  return gaps.map((gap) => ({
    lengthM: gap.lengthM,
    gapMm: millimetres(gap.gapM),
    gapRangeMm: millimetres(gap.gapRangeM),
    gap95Mm: millimetres(gap.gap95M),
    noiseGapMm: millimetres(gap.noiseGapM),
    atM: gap.atM,
    spanM: gap.spanM,
    reason: gap.reason,
    dinRow: gap.dinRow,
    dinLimitMm: gap.dinLimitMm,
    surfaceRegularity: gap.surfaceRegularity,
  }));
}

/** Against the limit for rails. */
export function railSection(rail: RailComparison): SurfaceSection['rail'] {
  return { ...rail };
}

/** Height parameters after the Gaussian filter. */
export function textureSection(texture: Texture): SurfaceSection['texture'] {
  return {
    cutoffM: texture.cutoffM,
    shortestM: texture.shortestM,
    rqMm: MM_PER_M * texture.rqM,
    raMm: MM_PER_M * texture.raM,
    rzMm: MM_PER_M * texture.rzM,
    sections: texture.sections,
    noiseRqMm: MM_PER_M * texture.noiseRqM,
  };
}

/** One-third-octave bands, named as the preferred wavelengths. */
export function bandsSection(bands: readonly WavelengthBand[]): SurfaceSection['wavelengthBands'] {
  return bands.map((band) => ({
    centreM: band.centreM,
    nominalM: band.nominalM,
    levelDbRe1um: band.asRolledDb,
    betweenJointsDb: band.betweenJointsDb,
    sdDb: band.sdDb,
    below: band.below,
    railLimitDb: band.railLimitDb,
  }));
}

function millimetres(metres: number | null): number | null {
  return metres === null ? null : MM_PER_M * metres;
}
