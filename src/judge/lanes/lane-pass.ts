/** One pass as its lane sees it: shake (px^2 of the delivery) by place along the lane, joints, and ln RMS with the noise taken off. */
import { mean } from '../../numerics/index.js';
import type { ComparedPass } from '../compare/types.js';
import { laneFrame, placesOfPass, sharesOfPass, type PassPlaces } from './lane-places.js';
import { pictureShake, type CommonView } from './picture-shake.js';

/** Something that lies on the floor, at its place along the lane. */
export interface LaneJoint {
  readonly atM: number;
  readonly heightMm: number;
  readonly kind: 'step' | 'joint' | 'bump' | 'dip';
}

/** A pass along its lane. */
export interface LanePass {
  readonly compared: ComparedPass;
  /** Of the rear axle of a dolly that goes out, one per frame that counts; falls on a pass back. */
  readonly placeM: Float64Array;
  /** Mean square shift of the picture in those frames, noise included. */
  readonly squares: Float64Array;
  readonly noise: number;
  /** ln of the RMS shift, noise taken off; of the bound when `hidden`. */
  readonly lnRms: number;
  /** The noise is as strong as the shake: `lnRms` is an upper bound. */
  readonly hidden: boolean;
  readonly durationS: number;
  /** Way of the rear axle over the whole pass, the ends included. */
  readonly wayM: number;
  readonly frontAheadM: number;
  readonly joints: readonly LaneJoint[];
}

/**
 * The passes of one lane. Ends of the clips that no statistic uses are left out.
 *
 * @param metric false: places are shares of the pass, joints have none
 * @returns without passes of which no frame counts
 */
export function lanePassesOf(passes: readonly ComparedPass[], view: CommonView, metric: boolean): LanePass[] {
  const placed = passes.map((compared) => ({
    compared,
    places: metric ? placesOfPass(compared.pass) : sharesOfPass(compared.pass),
  }));
  const lengthOf = ({ placeM }: PassPlaces): number => placeM[placeM.length - 1] ?? 0;
  const out = placed.filter(({ compared }) => compared.direction !== 'back');
  const outLengthM = out.length > 0 ? mean(out.map(({ places }) => lengthOf(places))) : null;
  return placed.flatMap(({ compared, places }) => {
    const frame = laneFrame(compared.direction, outLengthM ?? lengthOf(places), places.frontAheadM);
    return lanePass(compared, places, frame, view);
  });
}

function lanePass(
  compared: ComparedPass,
  { fromFrame, placeM, frontAheadM, metric }: PassPlaces,
  frame: ReturnType<typeof laneFrame>,
  view: CommonView,
): LanePass[] {
  const { motion, sections } = compared.pass;
  const { squares, noise } = pictureShake(compared.pass, view);
  const from = Math.max(fromFrame, motion.trimFrames);
  const to = Math.min(fromFrame + placeM.length, squares.length - motion.trimFrames);
  if (to <= from) return [];
  const own = squares.slice(from, to);
  const power = mean(own);
  const hidden = power < 2 * noise || power === 0;
  const lnRms = Math.log(Math.max(power - noise, noise, Number.MIN_VALUE)) / 2;
  return [
    {
      compared,
      placeM: Float64Array.from(placeM.slice(from - fromFrame, to - fromFrame), (place) => frame.axle(place)),
      squares: own,
      ...{ noise, lnRms, hidden, frontAheadM },
      wayM: placeM[placeM.length - 1],
      durationS: (to - from) / motion.rateHz,
      joints: metric
        ? sections.surface.bumps.map(({ atM, heightMm, kind }) => ({
            atM: frame.onFloor(atM),
            heightMm: Math.abs(heightMm),
            kind,
          }))
        : [],
    },
  ];
}
