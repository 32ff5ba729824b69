/** The surface in the words of a grip: a line of the list of bumps, and the class with its range. */
import { figure } from './figures.js';
import type { SurfaceBump, SurfaceSection } from './surface-schema.js';

const LINES: Record<SurfaceBump['wheelLine'], string> = {
  left: 'left wheel line',
  right: 'right wheel line',
  both: 'both wheel lines',
  unknown: 'wheel line not known',
};

/**
 * A bump without its place.
 * @example bumpInWords(bump) // "step of 1.2 mm up, left wheel line"
 */
export function bumpInWords(bump: SurfaceBump): string {
  return `${whatInWords(bump)}, ${LINES[bump.wheelLine]}`;
}

/** What it is and how high, without place and wheel line: "step of 1.2 mm up", "bump of 0.8 mm, 40 mm long". */
export function whatInWords({ kind, heightMm, lengthM }: SurfaceBump): string {
  const height = `${figure(Math.abs(heightMm))} mm`;
  if (kind === 'step' || kind === 'joint') return `${kind} of ${height} ${heightMm < 0 ? 'down' : 'up'}`;
  const length = lengthM > 0 ? `, ${figure(1000 * lengthM)} mm long` : '';
  return kind === 'dip' ? `dip of ${height} as this wheel sees it${length}` : `bump of ${height}${length}`;
}

/** Name of the wheel line of a bump. */
export function wheelLineInWords(bump: SurfaceBump): string {
  return LINES[bump.wheelLine];
}

/**
 * The class between joints with its range, and the one as rolled where that is another.
 * @returns null when there is no class
 * @example classInWords(surface) // "A-2 between joints, A as rolled"
 */
export function classInWords({
  isoClass,
  ci95Class,
  isoClassAsRolled,
  bumps,
}: SurfaceSection): string | null {
  if (isoClass === null) return null;
  const range = ci95Class && ci95Class[0] !== ci95Class[1] ? ` (${ci95Class[0]} to ${ci95Class[1]})` : '';
  const between = bumps.length > 0 ? ' between joints and bumps' : '';
  const rolled =
    isoClassAsRolled !== null && isoClassAsRolled !== isoClass ? `, ${isoClassAsRolled} as rolled` : '';
  return `${isoClass}${range}${between}${rolled}`;
}

/** Metres with as many decimals as the place is known to: centimetres, or millimetres when they stand. */
export function placeInWords(atM: number, rangeM: number): string {
  return `${atM.toFixed(rangeM < 0.005 ? 3 : 2)} m`;
}
