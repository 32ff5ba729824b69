/**
 * Road-profile spectra in the form of ISO 8608 (2016): from the roughness Gd(n0) in m^3 to densities, band RMS in metres
 * and a floor-flatness number.
 *
 * n is the wavenumber in cycles per metre, n0 = 0.1; Gd(n) is the one-sided displacement density in m^2 per cycle/m = m^3.
 * Mind the trap: the angular form Gd(Omega), Omega = 2 pi n, at 1 rad/m has numbers 16 times lower for the same floor.
 */

/** n0 of ISO 8608, cycles per metre. */
export const REFERENCE_WAVENUMBER = 0.1;

/** Exponent w of the straight spectra that the classes of ISO 8608 are made of. */
export const CLASS_WAVINESS = 2;

/** Reading spacing of ASTM E1155 floor-flatness surveys: 12 in, in metres. */
export const FLATNESS_SPACING_M = 0.3048;

/** Numerator of FF, metres (4.57 in; known from memory, a metric edition may hold 0.2 % less). */
export const FLATNESS_CONSTANT_M = 0.116078;

/**
 * One-sided displacement density in m^3 at the wavenumber `n`: Gd(n0) (n / n0)^-w.
 *
 * @param gdM3 Gd(n0), m^3
 * @param cyclesPerM n > 0
 * @example displacementPsd(16e-6, 0.5) // 6.4e-7
 */
export function displacementPsd(gdM3: number, cyclesPerM: number, waviness = CLASS_WAVINESS): number {
  return gdM3 * (cyclesPerM / REFERENCE_WAVENUMBER) ** -waviness;
}

/**
 * One-sided density in m^2/Hz of the height under one wheel that rolls at a steady speed: Gd(f / v) / v.
 *
 * @param freqHz f > 0
 * @example heightPsdInTime(16e-6, 10, 0.5) // 8e-10
 */
export function heightPsdInTime(
  gdM3: number,
  freqHz: number,
  speedMps: number,
  waviness = CLASS_WAVINESS,
): number {
  return displacementPsd(gdM3, freqHz / speedMps, waviness) / speedMps;
}

/**
 * RMS height in metres between two wavenumbers, the integral of the density in closed form.
 *
 * @param fromCyclesPerM lower end > 0
 * @param toCyclesPerM upper end; may be Infinity when w > 1
 * @example bandRmsM(16e-6, 0.5, 20) // 0.00055857
 */
export function bandRmsM(
  gdM3: number,
  fromCyclesPerM: number,
  toCyclesPerM: number,
  waviness = CLASS_WAVINESS,
): number {
  const scale = gdM3 * REFERENCE_WAVENUMBER ** waviness;
  const integral =
    waviness === 1
      ? Math.log(toCyclesPerM / fromCyclesPerM)
      : (toCyclesPerM ** (1 - waviness) - fromCyclesPerM ** (1 - waviness)) / (1 - waviness);
  return Math.sqrt(Math.max(0, scale * integral));
}

/**
 * The floor-flatness number FF that a w = 2 floor of this roughness would have on average, without unit; higher is flatter.
 *
 * Equivalent by own derivation, no survey: the curvature over 12 in readings of such a floor has the variance
 * 4 pi^2 n0^2 d Gd(n0), and FF = 116.078 mm / (3 sd) with no mean curvature. ASTM E1155 itself excludes floors of
 * fixed-path vehicles, and FF is blind to ripple of exactly 304.8 mm.
 *
 * @example flatnessFF(16e-6) // 27.886
 */
export function flatnessFF(gdM3: number): number {
  const curvatureSdM = 2 * Math.PI * REFERENCE_WAVENUMBER * Math.sqrt(gdM3 * FLATNESS_SPACING_M);
  return FLATNESS_CONSTANT_M / (3 * curvatureSdM);
}
