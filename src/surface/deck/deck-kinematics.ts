/**
 * What a rigid deck on two axles does, and how a lens that is yawed and tilted on it sees that: angles in radians,
 * translations in metres, in both directions.
 *
 * Deck: pitch + nose up, roll + left side up (clockwise seen from behind), heave + up, all with respect to the direction of
 * travel. Lens azimuth: the lens is yawed to the right of travel by this angle (0 looks ahead, +90 degrees looks right).
 */

/** Two columns of equal length. */
export type Pair = readonly [Float64Array, Float64Array];

/**
 * Camera [tilt, roll] of a deck that moves by [pitch, roll], radians:
 * tilt = p cos a - q sin a, roll = q cos a + p sin a.
 *
 * The same turn gives the camera's [lateral, axial] from the deck's horizontal [lateral, forward].
 *
 * @param azimuthRad lens azimuth a
 */
export function cameraFromDeck([pitch, roll]: Pair, azimuthRad: number): Pair {
  return turn(pitch, roll, azimuthRad);
}

/** The inverse of `cameraFromDeck`: deck [pitch, roll] from camera [tilt, roll], or deck [lateral, forward] from camera [lateral, axial]. */
export function deckFromCamera([tilt, roll]: Pair, azimuthRad: number): Pair {
  return turn(tilt, roll, -azimuthRad);
}

/** Standard deviations of a pair after a turn by `angleRad`, the two errors taken as independent. */
export function turnedSd([first, second]: readonly [number, number], angleRad: number): [number, number] {
  const c = Math.cos(angleRad);
  const s = Math.sin(angleRad);
  return [Math.hypot(first * c, second * s), Math.hypot(second * c, first * s)];
}

/**
 * [vertical, forward] along the plumb line and the floor, from [vertical, axial] of a lens that is tilted up by `tiltRad`.
 */
export function levelled([vertical, axial]: Pair, tiltRad: number): Pair {
  return turn(vertical, axial, -tiltRad);
}

function turn(first: Float64Array, second: Float64Array, angleRad: number): Pair {
  const c = Math.cos(angleRad);
  const s = Math.sin(angleRad);
  return [
    first.map((value, i) => value * c - second[i] * s),
    second.map((value, i) => value * c + first[i] * s),
  ];
}
