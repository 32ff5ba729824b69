/**
 * What shutter, frame rate and sensor readout do to a vibration: exposure times in seconds, gains without unit, aliases in hertz.
 */

/**
 * Exposure time in seconds of a shutter angle at a frame rate: angle / 360 / fps.
 *
 * @throws RangeError unless 0 <= angle <= 360 and fps > 0
 * @example shutterTimeS(180, 24) // 1/48
 */
export function shutterTimeS(angleDeg: number, fps: number): number {
  if (!(angleDeg >= 0 && angleDeg <= 360))
    throw new RangeError(`angleDeg must lie in 0..360, got ${angleDeg}`);
  if (!(fps > 0)) throw new RangeError(`fps must be positive, got ${fps}`);
  return angleDeg / 360 / fps;
}

/**
 * Share of a sine's amplitude that survives in the mean position over an exposure: |sin(pi f T) / (pi f T)|, 1 at f = 0.
 *
 * @example exposureGain(10, 1 / 48) // 0.9301
 */
export function exposureGain(freqHz: number, exposureS: number): number {
  const phase = Math.PI * freqHz * exposureS;
  return Math.abs(phase) < 1e-8 ? 1 : Math.abs(Math.sin(phase) / phase);
}

/**
 * The frequency in 0..fps/2 at which a vibration of `freqHz` shows in frames taken at `fps`.
 *
 * @throws RangeError unless fps > 0
 * @example aliasedFrequencyHz(20, 24) // 4
 */
export function aliasedFrequencyHz(freqHz: number, fps: number): number {
  if (!(fps > 0)) throw new RangeError(`fps must be positive, got ${fps}`);
  return Math.abs(freqHz - fps * Math.round(freqHz / fps));
}

/** Gain of the difference between neighbouring frames against the position itself: 2 |sin(pi f / fps)|. */
export function frameDifferenceGain(freqHz: number, fps: number): number {
  return 2 * Math.abs(Math.sin((Math.PI * freqHz) / fps));
}

/**
 * Time in seconds at which a row is read, after the first row: row * readout / rows.
 *
 * @param row 0 at the top; may be fractional
 * @param rows rows of the picture
 * @param readoutS from the first row to one past the last
 * @throws RangeError unless rows > 0
 */
export function rowTimeS(row: number, rows: number, readoutS: number): number {
  if (!(rows > 0)) throw new RangeError(`rows must be positive, got ${rows}`);
  return (row * readoutS) / rows;
}

/**
 * Largest difference in displacement between first and last row, in pixels, that a sine of the given amplitude makes
 * during one readout: 2 A |sin(pi f readout)|, and 2 A once half a period fits in.
 *
 * @example readoutSkewPx(5, 8, 0.015) // 3.681
 */
export function readoutSkewPx(amplitudePx: number, freqHz: number, readoutS: number): number {
  const phase = Math.PI * Math.abs(freqHz * readoutS);
  return 2 * Math.abs(amplitudePx) * (phase >= Math.PI / 2 ? 1 : Math.sin(phase));
}
