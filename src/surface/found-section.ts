/** Profile, bumps and joints as the run document holds them: heights in mm, places in m, ranges as half of 95 %. */
import { rms, TWO_SIDED_95 } from '../numerics/index.js';
import type { SurfaceSection } from '../run/index.js';
import type { JointRow } from './events/types.js';
import type { SurfaceProfile } from './profile/types.js';
import type { ListedEvent } from './types.js';

const MM_PER_M = 1000;
/** A tenth of a micrometre and of a millimetre are far below any error of a profile. */
const HEIGHT_DECIMALS = 4;
const PLACE_DECIMALS = 4;

/** The profile, rounded: it is long, and its last digits mean nothing. */
export function profileSection({
  distanceM,
  heightM,
  sdM,
  sides,
}: SurfaceProfile): SurfaceSection['profile'] {
  return {
    distanceM: Array.from(distanceM, (value) => rounded(value, PLACE_DECIMALS)),
    heightMm: millimetres(heightM),
    bandMm: millimetres(sdM, TWO_SIDED_95),
    leftMm: sides && millimetres(sides.leftM),
    rightMm: sides && millimetres(sides.rightM),
    sideBandMm: sides && millimetres(sides.sdM, TWO_SIDED_95),
  };
}

/** The list of bumps, in the order it comes in: worst first. */
export function bumpsSection(events: readonly ListedEvent[]): SurfaceSection['bumps'] {
  return events.map((event) => ({
    atM: event.atM,
    atRangeM: TWO_SIDED_95 * event.atSdM,
    atS: event.atS,
    axlesS: [...event.axlesS],
    heightMm: MM_PER_M * event.heightM,
    heightRangeMm: TWO_SIDED_95 * MM_PER_M * event.heightSdM,
    leftMm: event.sides && MM_PER_M * event.sides.leftM,
    rightMm: event.sides && MM_PER_M * event.sides.rightM,
    sideRangeMm: event.sides && TWO_SIDED_95 * MM_PER_M * event.sides.sdM,
    lengthM: event.lengthM,
    kind: event.kind,
    wheelLine: event.wheelLine,
    pictureShiftPx: event.pictureShiftPx,
    confidence: event.confidence,
    foundBy: event.foundBy,
  }));
}

/** The row of joints. */
export function jointsSection(row: JointRow, events: readonly ListedEvent[]): SurfaceSection['joints'] {
  const seen = events.filter(({ kind, foundBy }) => kind === 'joint' && foundBy === 'itself');
  return {
    spacingM: row.spacingM,
    spacingRangeM: TWO_SIDED_95 * row.spacingSdM,
    count: row.placesM.length,
    seen: seen.length,
    firstM: Math.min(...row.placesM),
    stepRmsMm: MM_PER_M * stepRms(events),
    lnEvidence: row.lnEvidence,
  };
}

/** RMS step of the joints under one wheel line, under their mean where the lines are not known apart. */
function stepRms(events: readonly ListedEvent[]): number {
  const steps = events
    .filter(({ kind }) => kind === 'joint')
    .flatMap(({ heightM, sides }) => (sides === null ? [heightM] : [sides.leftM, sides.rightM]));
  return steps.length === 0 ? 0 : rms(Float64Array.from(steps));
}

function millimetres(metres: Float64Array, factor = 1): number[] {
  return Array.from(metres, (value) => rounded(factor * MM_PER_M * value, HEIGHT_DECIMALS));
}

function rounded(value: number, decimals: number): number {
  return Number(value.toFixed(decimals));
}
