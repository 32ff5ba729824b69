/** How much each stretch of a wheel line rises and falls, mm, and the few even shades that say so; own derivation. */
import { bisectLeft } from 'd3-array';
import { heightUnit, type AxisUnit } from './axis-units.js';
import type { FloorStripData, StripBump, StripLine } from './floor-strip-data.js';

/** A stretch of one wheel line. */
export interface Stretched {
  readonly fromM: number;
  readonly toM: number;
  /** Highest less lowest height, or the height of a bump there, mm; null where the 95 % band is wider than that and than a shade. */
  readonly riseMm: number | null;
}

/** The shades of a strip. */
export interface Shades {
  /** Length of a stretch, m. */
  readonly windowM: number;
  /** What one shade spans, mm; the darkest takes in all that is more. */
  readonly stepMm: number;
  readonly lines: readonly (readonly Stretched[])[];
}

/** Shades, the darkest last; classes shade-0 to shade-3. */
export const STRIP_SHADES = 4;
/** About so many stretches in a run, none shorter than the shortest. */
const STRETCHES = 50;
const WINDOWS_M = [0.05, 0.1, 0.2, 0.25, 0.5, 1, 2, 5] as const;

/**
 * Shades of all lines on one scale; null without a profile.
 *
 * The scale is that of the floor between joints and bumps, so that they do not drown it. A stretch that holds one is shaded by its
 * height, which is known better than the profile beside it.
 */
export function stripShades(data: FloorStripData): Shades | null {
  const { distanceM, lines, units } = data;
  if (distanceM.length < 2 || lines.every(({ heightMm }) => heightMm.length === 0)) return null;
  const windowM = windowOf(distanceM[distanceM.length - 1] - distanceM[0]);
  const rises = lines.map((line) => risesOf(line, data, windowM));
  const between = rises.flat().filter(({ bumpMm }) => bumpMm === null);
  const sure = between.filter(({ riseMm, bandMm }) => riseMm > bandMm);
  const asked = sure.length > 0 ? sure : between.length > 0 ? between : rises.flat();
  const stepMm = shadeStep(Math.max(0, ...asked.map(({ riseMm }) => riseMm)), heightUnit(units));
  return {
    windowM,
    stepMm,
    lines: rises.map((line) =>
      line.map(({ fromM, toM, riseMm, bandMm, bumpMm }) => ({
        fromM,
        toM,
        riseMm: bumpMm ?? (bandMm > Math.max(riseMm, stepMm) ? null : riseMm),
      })),
    ),
  };
}

/** Which shade a rise has: 0 is the lightest. */
export function shadeOf(riseMm: number, stepMm: number): number {
  return Math.min(STRIP_SHADES - 1, Math.floor(riseMm / stepMm));
}

function windowOf(lengthM: number): number {
  return WINDOWS_M.find((window) => lengthM / window <= STRETCHES) ?? WINDOWS_M[WINDOWS_M.length - 1];
}

/** A round step in the unit that is shown, so that four of them reach the highest rise. */
function shadeStep(mostMm: number, { size }: AxisUnit): number {
  const least = mostMm / STRIP_SHADES / size || 0.1;
  const decade = 10 ** Math.floor(Math.log10(least));
  return size * decade * ([1, 2, 2.5, 5, 10].find((step) => step * decade >= least * (1 - 1e-9)) ?? 10);
}

function risesOf({ id, heightMm, bandMm }: StripLine, data: FloorStripData, windowM: number) {
  const { distanceM, bumps } = data;
  const [first, last] = [distanceM[0], distanceM[distanceM.length - 1]];
  const count = heightMm.length === 0 ? 0 : Math.max(1, Math.round((last - first) / windowM));
  return Array.from({ length: count }, (_, k) => {
    const fromM = first + (k * (last - first)) / count;
    const toM = first + ((k + 1) * (last - first)) / count;
    // One sample beyond, so that neighbours share the step between them.
    const from = bisectLeft(distanceM, fromM);
    const to = Math.max(from + 1, bisectLeft(distanceM, toM) + 1);
    const heights = heightMm.slice(from, to);
    const bumpsHere = bumps
      .filter(({ atM }) => atM >= fromM && (atM < toM || k === count - 1))
      .map((bump) => Math.abs(heightUnder(bump, id)));
    return {
      fromM,
      toM,
      riseMm: Math.max(...heights) - Math.min(...heights),
      bandMm: Math.max(...bandMm.slice(from, to)),
      bumpMm: bumpsHere.length === 0 ? null : Math.max(...bumpsHere),
    };
  });
}

/** Height of a bump under a line, mm. */
function heightUnder({ heightMm, leftMm, rightMm }: StripBump, id: StripLine['id']): number {
  if (id === 'mean') return heightMm;
  return (id === 'left' ? leftMm : rightMm) ?? heightMm;
}
