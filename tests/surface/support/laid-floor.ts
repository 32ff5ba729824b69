/** What lies on a made-up floor: joints between plates, single steps and bumps, added to both wheel tracks; metres. */
import { gaussianRandom, seededRandom } from '../../../src/numerics/index.js';
import { SPACING_M, type FloorTracks } from './made-up-floor.js';

export type Side = 'left' | 'right' | 'both';

/** Joints, steps and bumps; their places count from where the rear axle stands at the first frame. */
export interface LaidEvents {
  /** Plates of one length: `lippageM` is the sd of each plate's height under each track, so a step is the difference of neighbours. */
  readonly joints?: {
    readonly spacingM: number;
    readonly lippageM: number;
    readonly gapWidthM: number;
    readonly gapDepthM: number;
    /** Place of one of the joints; a third of the spacing unless given. */
    readonly firstM?: number;
  };
  /** Lasting steps, + up along the travel. */
  readonly steps?: readonly { readonly atM: number; readonly heightM: number; readonly side?: Side }[];
  /** Raised cosines, `atM` at their middle; - for a hollow. */
  readonly bumps?: readonly {
    readonly atM: number;
    readonly heightM: number;
    readonly lengthM: number;
    readonly side?: Side;
  }[];
}

const JUST_INSIDE_M = 1e-6;

/** A joint as laid. */
export interface LaidJoint {
  readonly atM: number;
  readonly leftStepM: number;
  readonly rightStepM: number;
}

/** Adds the events to the tracks and says where the joints came to lie. @param startM place of the rear axle's start on the tracks */
export function layEvents(
  tracks: FloorTracks,
  { joints, steps = [], bumps = [] }: LaidEvents,
  startM: number,
  seed: number,
): LaidJoint[] {
  const add = (side: Side, fromM: number, toM: number, height: (placeM: number) => number): void => {
    const first = Math.max(0, Math.ceil((fromM + startM) / SPACING_M - 1e-9));
    const end = Math.min(tracks.left.length, Math.ceil((toM + startM) / SPACING_M - 1e-9));
    for (let i = first; i < end; i++) {
      const added = height(i * SPACING_M - startM);
      if (side !== 'right') tracks.left[i] += added;
      if (side !== 'left') tracks.right[i] += added;
    }
  };
  const endM = tracks.left.length * SPACING_M - startM;
  const laid: LaidJoint[] = [];
  if (joints) {
    const { spacingM, lippageM, gapWidthM, gapDepthM, firstM = joints.spacingM / 3 } = joints;
    const gaussian = gaussianRandom(seededRandom(seed));
    let plate = [0, 0];
    for (
      let atM = firstM - spacingM * Math.floor((firstM + startM) / spacingM);
      atM < endM;
      atM += spacingM
    ) {
      const next = [lippageM * gaussian(), lippageM * gaussian()];
      add('left', atM, endM, () => next[0] - plate[0]);
      add('right', atM, endM, () => next[1] - plate[1]);
      // Points on the very edges of a gap still carry the wheel.
      add('both', atM - gapWidthM / 2 + JUST_INSIDE_M, atM + gapWidthM / 2, () => -gapDepthM);
      laid.push({ atM, leftStepM: next[0] - plate[0], rightStepM: next[1] - plate[1] });
      plate = next;
    }
  }
  for (const { atM, heightM, side = 'both' } of steps) add(side, atM, endM, () => heightM);
  for (const { atM, heightM, lengthM, side = 'both' } of bumps)
    add(
      side,
      atM - lengthM / 2,
      atM + lengthM / 2,
      (placeM) => (heightM * (1 + Math.cos((2 * Math.PI * (placeM - atM)) / lengthM))) / 2,
    );
  return laid;
}
