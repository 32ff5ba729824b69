/**
 * How the floor reaches an axis of the camera: power of the axis over power of the height under the mean track, per wavenumber, up to a
 * constant; wavenumbers in cycles/m, lengths in metres, angles in radians.
 *
 * With phi = pi n L and the wave taken in the middle between the axles: pitch 2 sin(phi) / L in quadrature, heave cos(phi), deck roll
 * cos(phi) / B from the difference of the tracks. The lens is carried at its height: -h pitch ahead, h roll to the right. Its path up is
 * summed along the lens itself, which pitches while it travels, so a part -sin(phi) / phi of the way ahead counts as way down.
 * Two tracks that are independent of each other differ by four times the power of their mean. Own derivation.
 */
import { quantile } from '../../numerics/index.js';
import type { Axis } from '../../run/index.js';
import type { Pass, Travel } from '../../surface/index.js';
import type { FloorView } from './types.js';

/** What sharpens the view. */
export interface FloorViewOptions {
  /** Wavenumber at which the contact of the wheels lets half of the power through; of a hard wheel when left out. */
  readonly contactCyclesPerM?: number;
  /** Height of the lens over the wheels; counts where a tilted lens mixes the ways up and ahead. */
  readonly cameraHeightM?: number;
}

/** Hard wheels: polyurethane on a floor. */
const HARD_CONTACT_CYCLES_PER_M = 110;
/** Errors of speed and wheelbase that the rig is trusted to. */
const SPEED_SD_SHARE = 0.02;
const WHEELBASE_SD_M = 0.005;
/** A part that enters with less than this weight (10 degrees off) may be left out. */
const SLIGHT = 0.175;
/** Power of the difference of two independent tracks over that of their mean. */
const DIFFERENCE_OVER_MEAN = 4;
/** Speeds that stand for a pass, each for an equal share of its frames; one when it varies by less than rounding does. */
const SPEED_COUNT = 6;
const STEADY = 1e-6;

/** Amplitude of an axis per height: from the mean track in phase and in quadrature, and from the difference of the tracks. */
interface Answer {
  readonly inPhase: number;
  readonly quadrature: number;
  readonly difference: number;
}

/** Weights of the deck's motions in an axis: pitch, roll, heave with the path along the pitching lens. */
interface Weights {
  readonly pitch: number;
  readonly roll: number;
  readonly up: number;
}

/**
 * The view of one axis; for pan there is none.
 *
 * @param pass null without one
 * @returns null where no model holds: no pass, a head that levels itself or hides what the axis would show, pan, or a mixture of both deck
 * angles without the track width, of ways up and ahead without the height of the lens
 */
export function floorViewOf(axis: Axis, pass: Pass | null, options: FloorViewOptions = {}): FloorView | null {
  if (pass === null || pass.mounting.levellingHeightM !== null) return null;
  const weights = weightsOf(axis, pass, options.cameraHeightM ?? null);
  if (weights === null) return null;
  const { wheelbaseM, trackWidthM } = pass.dolly;
  const speedsMps = speedsOf(pass.travel);
  const powerGain: FloorView['powerGain'] = (cyclesPerM, phaseScale) => {
    const { inPhase, quadrature, difference } = answer(
      weights,
      Math.PI * cyclesPerM * wheelbaseM * phaseScale,
      wheelbaseM,
      trackWidthM ?? 1,
    );
    return inPhase ** 2 + quadrature ** 2 + DIFFERENCE_OVER_MEAN * difference ** 2;
  };
  return {
    powerGain,
    wheelbaseM,
    speedsMps,
    exposureS: pass.exposureS,
    contactCyclesPerM: options.contactCyclesPerM ?? HARD_CONTACT_CYCLES_PER_M,
    phaseSd: Math.hypot(SPEED_SD_SHARE, WHEELBASE_SD_M / wheelbaseM),
  };
}

function answer(
  { pitch, roll, up }: Weights,
  phase: number,
  wheelbaseM: number,
  trackWidthM: number,
): Answer {
  const sine = Math.sin(phase);
  const cosine = Math.cos(phase);
  return {
    inPhase: up === 0 ? 0 : up * (cosine - sine / phase),
    quadrature: (2 * pitch * sine) / wheelbaseM,
    difference: (roll * cosine) / trackWidthM,
  };
}

/** Weights of an axis, slight parts left out where the rig does not say enough for them; null where it does not for a part that counts. */
function weightsOf(axis: Axis, { mounting, dolly }: Pass, heightM: number | null): Weights | null {
  const { azimuthRad, tiltRad, offsetM, pitchShows, rollShows, heaveShows } = mounting;
  const c = Math.cos(azimuthRad);
  const s = Math.sin(azimuthRad);
  const turns = (pitch: number, roll: number): Weights | null => {
    const shown = (pitchShows || Math.abs(pitch) < SLIGHT) && (rollShows || Math.abs(roll) < SLIGHT);
    return shown ? withTracks({ pitch, roll, up: 0 }, dolly.trackWidthM) : null;
  };
  if (axis === 'tilt') return turns(c, -s);
  if (axis === 'roll') return turns(s, c);
  if (axis === 'pan' || !pitchShows) return null;
  if (axis === 'lateral')
    return rollShows ? withTracks({ pitch: s, roll: c, up: 0 }, dolly.trackWidthM) : null;

  // Up and ahead of a lens that is tilted: the ways along floor and plumb line, turned.
  const level = Math.cos(tiltRad);
  const raised = Math.sin(tiltRad);
  const mixes = heightM !== null || Math.abs(raised) < SLIGHT;
  if (!mixes || (axis === 'vertical' && !heaveShows) || (axis === 'axial' && !rollShows)) return null;
  const carried = heightM ?? (axis === 'axial' ? 1 : 0);
  const alongFloor = axis === 'axial' ? level : -raised;
  const alongPlumb = axis === 'axial' ? (heightM === null ? 0 : raised) : level;
  return withTracks(
    {
      pitch: -alongFloor * carried * c + alongPlumb * offsetM,
      roll: alongFloor * carried * s,
      up: alongPlumb,
    },
    dolly.trackWidthM,
  );
}

/** Without the track width the slighter of what both tracks and what their difference makes is left out; null where both count. */
function withTracks(weights: Weights, trackWidthM: number | null): Weights | null {
  const { pitch, roll, up } = weights;
  if (trackWidthM !== null) return weights;
  const mean = Math.hypot(pitch, up);
  if (Math.abs(roll) <= SLIGHT * mean) return { pitch, roll: 0, up };
  if (mean <= SLIGHT * Math.abs(roll)) return { pitch: 0, roll, up: 0 };
  return null;
}

function speedsOf({ placeM, fromFrame, toFrame, speedMps }: Travel): Float64Array {
  const count = toFrame - fromFrame;
  if (count < 2) return Float64Array.of(speedMps);
  const wayM = placeM[count - 1] - placeM[0];
  const mean = wayM / (count - 1);
  const steps = Float64Array.from({ length: count - 1 }, (_, i) => placeM[i + 1] - placeM[i]);
  if (steps.every((step) => Math.abs(step - mean) < STEADY * mean)) return Float64Array.of(speedMps);
  return Float64Array.from(
    { length: SPEED_COUNT },
    (_, k) => (speedMps * quantile(steps, (k + 0.5) / SPEED_COUNT)) / mean,
  );
}
