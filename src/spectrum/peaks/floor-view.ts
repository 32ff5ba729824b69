/**
 * How the height of the floor reaches each axis of the camera through a rigid deck on two axles, as power gains per wavenumber.
 *
 * With phi = pi n L: pitch is 2 sin(phi) / L of the mean track, roll cos(phi) / B of the difference of the tracks. The lens is carried
 * along by pitch and across by roll, at a height that only sets the level. Its own vertical path is summed along a lens that leans as
 * the deck pitches, which takes the integral of pitch along the way off the heave: cos(phi) - sin(phi) / phi, and pitch times the
 * lens's offset in quadrature. Own derivation.
 */
import type { Axis } from '../../run/index.js';
import type { Pass, Travel } from '../../surface/index.js';
import type { FloorView } from './types.js';

/** A hard wheel, cycles/m: what softer ones do to fast shake is smooth, and the running level follows it. */
const HARD_CONTACT_CYCLES_PER_M = 100;
/** Trust in speed, as a share of it, and in the wheelbase, metres (one standard deviation each). */
const SPEED_SD_SHARE = 0.02;
const WHEELBASE_SD_M = 0.005;
/** Six speeds stand for a normal spread, in standard deviations. */
const SPEED_SDS = [-1.3, -0.7, -0.25, 0.25, 0.7, 1.3];
/** A spread below this moves no notch by a bin. */
const STEADY = 1e-3;
/** Power of the difference of two unlike tracks over that of their mean. */
const DIFFERENCE_OVER_MEAN = 4;
/** An angle of the deck counts for an axis from this share of its power on. */
const COUNTS = 0.1;

type PowerGain = FloorView['powerGain'];

/**
 * The view of one axis; null where no model of the floor holds: without a pass, for pan (no height turns the deck about the upright), and
 * for an axis that the head keeps from the deck.
 *
 * @param pass how dolly and camera stand and roll; null when rig and clip do not tell
 */
export function floorViewOf(axis: Axis, pass: Pass | null): FloorView | null {
  const powerGain = pass && powerGainOf(axis, pass);
  if (pass === null || powerGain === null) return null;
  const { wheelbaseM } = pass.dolly;
  return {
    powerGain,
    wheelbaseM,
    speedsMps: speedsOf(pass.travel),
    exposureS: pass.exposureS,
    contactCyclesPerM: HARD_CONTACT_CYCLES_PER_M,
    phaseSd: Math.hypot(SPEED_SD_SHARE, WHEELBASE_SD_M / wheelbaseM),
  };
}

function powerGainOf(axis: Axis, { dolly, mounting }: Pass): PowerGain | null {
  const { azimuthRad, levellingHeightM, pitchShows, rollShows, heaveShows, offsetM } = mounting;
  const { wheelbaseM } = dolly;
  // Without a track width the deck is taken as square: it weighs roll against pitch where an axis shows both.
  const trackWidthM = dolly.trackWidthM ?? wheelbaseM;
  const phase = (cyclesPerM: number, phaseScale: number): number =>
    Math.PI * cyclesPerM * wheelbaseM * phaseScale;
  const pitch: PowerGain = (n, scale) => (2 * Math.sin(phase(n, scale))) ** 2 / wheelbaseM ** 2;
  const roll: PowerGain = (n, scale) =>
    (DIFFERENCE_OVER_MEAN * Math.cos(phase(n, scale)) ** 2) / trackWidthM ** 2;
  const along = Math.cos(azimuthRad) ** 2;
  const across = 1 - along;
  const mixed = (ofPitch: number, ofRoll: number): PowerGain =>
    ofRoll === 0 ? pitch : (n, scale) => ofPitch * pitch(n, scale) + ofRoll * roll(n, scale);
  const turned = (ofPitch: number, ofRoll: number): PowerGain | null => {
    const hidden =
      levellingHeightM !== null || (ofPitch > COUNTS && !pitchShows) || (ofRoll > COUNTS && !rollShows);
    return hidden ? null : mixed(ofPitch, ofRoll);
  };
  switch (axis) {
    case 'pan':
      return null;
    case 'tilt':
      return turned(along, across);
    case 'roll':
      return turned(across, along);
    case 'axial':
      return mixed(along, across);
    case 'lateral':
      return mixed(across, along);
    case 'vertical':
      if (!heaveShows) return null;
      return (n, scale) => {
        const phi = phase(n, scale);
        // A lens that is kept level does not lean, and its path is plumb.
        const leaning = levellingHeightM === null ? Math.sin(phi) / phi : 0;
        return (Math.cos(phi) - leaning) ** 2 + ((2 * offsetM * Math.sin(phi)) / wheelbaseM) ** 2;
      };
  }
}

function speedsOf({ speedMps, speedVariation }: Travel): Float64Array {
  return speedVariation < STEADY
    ? Float64Array.of(speedMps)
    : Float64Array.from(SPEED_SDS, (sds) => speedMps * (1 + sds * speedVariation));
}
