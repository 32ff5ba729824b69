/** Where the dolly was in each frame of a pass, metres along the lane; shares of the pass, 0..1, where neither travel nor speed is known. */
import { travelOf } from '../../surface/index.js';
import type { MeasuredPass } from '../pass/measured-pass.js';

/** The moving stretch of a pass and where its rear axle was. */
export interface PassPlaces {
  /** First frame of the moving stretch. */
  readonly fromFrame: number;
  /** One per frame from there: way of the rear axle since the first frame of the clip; rises. */
  readonly placeM: Readonly<Float64Array>;
  /** False: the places are shares of the pass. */
  readonly metric: boolean;
  /** From the rear to the front axle along the travel; 0 where it is not known. */
  readonly frontAheadM: number;
}

/**
 * The places of a pass: as its floor was graded by; else from the measured path with the speed or the travel of the rig; else, with
 * `metric` false, the share of the clip that has gone by.
 */
export function placesOfPass({ motion, rig, floor }: MeasuredPass): PassPlaces {
  const frontAheadM = floor?.frontAheadM ?? rig.wheelbaseM ?? 0;
  if (floor !== null)
    return {
      fromFrame: floor.fromFrame,
      placeM: Float64Array.from(floor.rearM),
      metric: true,
      frontAheadM,
    };
  const travel = travelOf(motion, rig);
  if (travel === null) return sharesOfPass({ motion });
  return { fromFrame: travel.fromFrame, placeM: travel.placeM, metric: true, frontAheadM };
}

/** Every frame by its share of the pass. */
export function sharesOfPass({ motion }: Pick<MeasuredPass, 'motion'>): PassPlaces {
  const last = Math.max(1, motion.timeS.length - 1);
  return {
    fromFrame: 0,
    placeM: Float64Array.from(motion.timeS, (_, t) => t / last),
    metric: false,
    frontAheadM: 0,
  };
}

/** How places of a pass are told as places of its lane: the rear axle of a dolly that goes out counts. */
export interface LaneFrame {
  /** Of the rear axle of the pass. */
  axle(placeM: number): number;
  /** Of something that lies on the floor, given from where the rear axle of the pass began. */
  onFloor(placeM: number): number;
}

/**
 * The frame of a pass along its lane. A pass back is taken to begin where a pass out ends, the dolly facing either way: both then
 * have the middle between the axles at the same place.
 *
 * @param lengthM way of the rear axle on a pass out
 * @example laneFrame('back', 4, 0.5).axle(1) // 3: a dolly that has come back by one metre of four
 */
export function laneFrame(direction: 'out' | 'back' | null, lengthM: number, frontAheadM: number): LaneFrame {
  if (direction !== 'back') return { axle: (placeM) => placeM, onFloor: (placeM) => placeM };
  return {
    axle: (placeM) => lengthM - placeM,
    onFloor: (placeM) => lengthM + frontAheadM - placeM,
  };
}
