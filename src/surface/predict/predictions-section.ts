/** The table of other setups as the run document holds it: angles in mdeg, the rest as named. */
import type { SurfacePrediction } from '../../run/index.js';
import type { SetupTable } from './predict-setups.js';
import type { Ranged } from './types.js';

const MDEG_PER_RAD = 180e3 / Math.PI;
/** Smaller kicks are those of a channel that this pass does not show. */
const LEAST_KICK_PX = 0.01;

/** Lines of the run document, one for each row of the table. */
export function predictionsSection({ rows }: SetupTable): SurfacePrediction[] {
  return rows.map((row) => ({
    change: row.change,
    label: row.label,
    pitchMdegRms: inUnit(row.pitchRad, MDEG_PER_RAD),
    rollMdegRms: inUnit(row.rollRad, MDEG_PER_RAD),
    shakePxRms: inUnit(row.shakePx, 1),
    // Without a picture another lens changes nothing that is told.
    ratio: row.change === 'lens' && row.shakePx === null ? null : inUnit(row.ratio, 1),
    largestKickPx: row.largestKickPx !== null && row.largestKickPx > LEAST_KICK_PX ? row.largestKickPx : null,
    assumes: row.assumes,
    reason: row.reason,
  }));
}

function inUnit(range: Ranged | null, perUnit: number): Ranged | null {
  return range && { value: range.value * perUnit, low: range.low * perUnit, high: range.high * perUnit };
}
