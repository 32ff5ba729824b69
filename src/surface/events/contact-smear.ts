/** How far a soft wheel smears steps and bumps along the run, metres, from the half-power wavenumber of its contact, cycles/m. */

/** Width of the box that is as wide (in its second moment) as the bell with half power at a wavenumber, in wavelengths of it. */
const BOX_WAVES = (Math.sqrt(12) * Math.sqrt(Math.LN2)) / (2 * Math.PI);
/** What the shapes hold of a hard wheel's edge already, metres. */
const HARD_M = 0.004;
/** Wider shapes find bumps where none are, and lose rows (own trials with a contact of 45 mm). */
const MOST_M = 0.02;

/**
 * The smear beyond that of a hard wheel.
 *
 * @param contactCyclesPerM as fitted to the pass as it rolled: joints show the contact better than any floor
 * @returns 0 for hard wheels; 20 mm for soft tyres, and where noise hides the contact
 */
export function contactSmearM(contactCyclesPerM: number): number {
  return Math.min(MOST_M, Math.max(0, BOX_WAVES / contactCyclesPerM - HARD_M));
}
