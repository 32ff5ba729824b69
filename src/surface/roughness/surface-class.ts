/**
 * Names of roughness classes from Gd(n0) in m^3: "A".."H" of ISO 8608 and finer steps of our own below A ("A-1", "A-2" ...).
 *
 * Each class is four times rougher than the one before in density, twice in height. Limits lie at twice and half the
 * geometric mean. Say "ISO 8608-style" wherever a class is shown: a dolly sees decimetres to centimetres, the standard
 * fits its line to 0.35-91 m.
 */

/** Geometric mean of class A at n0 = 0.1 cycles per metre, m^3 (ISO 8608). */
const CLASS_A_MEAN_M3 = 16e-6;

const LETTERS = 'ABCDEFGH';

/** One class: its name and its limits in m^3; no upper limit for H. */
export interface SurfaceClass {
  readonly name: string;
  readonly lowerM3: number;
  readonly meanM3: number;
  readonly upperM3: number | null;
}

/**
 * The class of a roughness; a value on a limit belongs to the rougher class.
 *
 * ISO 8608 knows no lower limit for A: what we call "A-1" and below is A in the standard.
 *
 * @param gdM3 Gd(n0), m^3, at n0 = 0.1 cycles per metre (not the angular form, whose numbers are 16 times lower)
 * @throws RangeError unless gdM3 > 0
 * @example surfaceClass(1e-6).name // 'A-2'
 */
export function surfaceClass(gdM3: number): SurfaceClass {
  if (!(gdM3 > 0)) throw new RangeError(`gdM3 must be positive, got ${gdM3}`);
  const step = Math.round(Math.log(gdM3 / CLASS_A_MEAN_M3) / Math.log(4));
  const index = Math.min(step, LETTERS.length - 1);
  const meanM3 = CLASS_A_MEAN_M3 * 4 ** index;
  return {
    name: index < 0 ? `A${index}` : LETTERS.charAt(index),
    lowerM3: meanM3 / 2,
    meanM3,
    upperM3: index === LETTERS.length - 1 ? null : meanM3 * 2,
  };
}
