/** The surface in the words of a grip: a line of the list of bumps, and the class with its range. */
import { figure, heightUnderWorstMm, type SurfaceBump, type SurfaceSection } from '../../run/index.js';

const LINES: Record<SurfaceBump['wheelLine'], string> = {
  left: 'left wheel line',
  right: 'right wheel line',
  both: 'both wheel lines',
  unknown: 'wheel line not known',
};

/** Wheel lines whose heights differ by more than this factor, or in sign, are told apart. */
const ALIKE = 2;

/**
 * A bump without its place.
 * @example bumpInWords(bump) // "step of 1.2 mm up, left wheel line"
 */
export function bumpInWords(bump: SurfaceBump): string {
  return sidesDiffer(bump) ? whatInWords(bump) : `${whatInWords(bump)}, ${LINES[bump.wheelLine]}`;
}

/**
 * What it is and how high, without place: "step of 1.2 mm up", "bump of 0.8 mm, 40 mm long". The height is that under the wheel line
 * that it is highest under, by which lists are ordered; where both meet it and differ, each is told: "joint, left 0.4 mm up, right
 * 2.8 mm down". A line whose height may as well be none is told by its range.
 */
function whatInWords(bump: SurfaceBump): string {
  const { kind, leftMm, rightMm, sideRangeMm, lengthM } = bump;
  const lasting = kind === 'step' || kind === 'joint';
  const length = !lasting && lengthM > 0 ? `, ${figure(1000 * lengthM)} mm long` : '';
  const seen = kind === 'dip' ? ' as this wheel sees it' : '';
  if (sidesDiffer(bump))
    return `${kind}, left ${underLine(leftMm ?? 0, sideRangeMm)}, right ${underLine(rightMm ?? 0, sideRangeMm)}${seen}${length}`;
  const heightMm = heightUnderWorstMm(bump);
  return lasting
    ? `${kind} of ${upOrDown(heightMm)}`
    : `${kind} of ${figure(Math.abs(heightMm))} mm${seen}${length}`;
}

function sidesDiffer({ wheelLine, leftMm, rightMm }: SurfaceBump): boolean {
  if (wheelLine !== 'both' || leftMm === null || rightMm === null) return false;
  const [low, high] = [Math.abs(leftMm), Math.abs(rightMm)].sort((a, b) => a - b);
  return leftMm * rightMm < 0 || high > ALIKE * low;
}

function underLine(heightMm: number, rangeMm: number | null): string {
  if (rangeMm === null || Math.abs(heightMm) > rangeMm) return upOrDown(heightMm);
  return `between ${upOrDown(heightMm - rangeMm)} and ${upOrDown(heightMm + rangeMm)}`;
}

function upOrDown(heightMm: number): string {
  return `${figure(Math.abs(heightMm))} mm ${heightMm < 0 ? 'down' : 'up'}`;
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
