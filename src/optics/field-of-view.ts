/**
 * Field of view and focal length in pixels, from millimetres of lens and sensor.
 */

function positive(name: string, value: number): void {
  if (!(value > 0 && Number.isFinite(value)))
    throw new RangeError(`${name} must be a positive number, got ${value}`);
}

/**
 * Angle of view in degrees across `sensorSideMm` for a lens focused far away: 2 atan(w / 2f). Distortion is ignored.
 *
 * @throws RangeError unless both are positive
 * @example fieldOfViewDeg(36, 50) // 39.598
 */
export function fieldOfViewDeg(sensorSideMm: number, focalLengthMm: number): number {
  positive('sensorSideMm', sensorSideMm);
  positive('focalLengthMm', focalLengthMm);
  return (2 * Math.atan(sensorSideMm / (2 * focalLengthMm)) * 180) / Math.PI;
}

/**
 * Focal length in pixels of a picture `widthPx` wide: f W / w.
 *
 * @throws RangeError unless all three are positive
 * @example focalPxFromMm(50, 36, 1920) // 2666.67
 */
export function focalPxFromMm(focalLengthMm: number, sensorWidthMm: number, widthPx: number): number {
  positive('focalLengthMm', focalLengthMm);
  positive('sensorWidthMm', sensorWidthMm);
  positive('widthPx', widthPx);
  return (focalLengthMm * widthPx) / sensorWidthMm;
}
