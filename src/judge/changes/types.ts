/** What can be changed about a pass, and the motion that the camera would then have had. */
import type { Motion } from '../../motion/index.js';
import type { SurfaceSection } from '../../run/index.js';

/** One change of dolly, floor or speed; the lens, the delivery and the way of stabilising do not change the motion. */
export type PassChange =
  | { readonly what: 'speed'; readonly speedMps: number }
  | { readonly what: 'wheelbase'; readonly wheelbaseM: number }
  /** Other wheels: another diameter, soft tyres or hard wheels; what is missing stays. */
  | { readonly what: 'wheel'; readonly diameterM?: number; readonly tyre?: 'soft' | 'hard' }
  /** Boards or rail of this roughness (Gd(n0) at w = 2, m^3) without joints, laid over the floor. */
  | { readonly what: 'smoothSurface'; readonly psdM3: number }
  /** A surface that was measured on a run of its own, joints included. */
  | { readonly what: 'measuredSurface'; readonly name: string; readonly surface: SurfaceSection }
  /** These entries of the list of bumps shimmed or bridged. */
  | { readonly what: 'shim'; readonly bumps: readonly number[] }
  /** These entries of the list of sources stopped: a wheel trued, a motor set softly, a mount stiffened. */
  | { readonly what: 'silence'; readonly sources: readonly number[] };

/** The motion after a change: what is expected, and what the prediction leaves open. */
export interface ChangedMotion {
  readonly expected: Motion;
  /** The ends of the 95 % range, least shake first; the motion that is expected where they are factors of it alone. */
  readonly least: Motion;
  readonly most: Motion;
  /**
   * Motions that the pass does not tell from the expected one, in no order: which of them shakes less differs from axis to axis, so
   * each figure is worked out from all of them.
   */
  readonly otherwise: readonly Motion[];
  /** What else is open about any of these motions, as a factor on its figures either way (95 %); at least 1. */
  readonly factor95: number;
  /** What is taken for granted, plain sentences. */
  readonly assumes: readonly string[];
}

/** Why a change cannot be foretold, in a plain sentence that says what to give or do. */
export interface RefusedChange {
  readonly refused: string;
}

/** Of a change that leaves nothing open but the ends of its range. */
export const NOTHING_ELSE: Pick<ChangedMotion, 'otherwise' | 'factor95'> = { otherwise: [], factor95: 1 };

/** Nothing changed: the motion itself, without a range. */
export function unchanged(motion: Motion): ChangedMotion {
  return { ...oneMotion(motion), assumes: [] };
}

/** One motion in all places: nothing about it is open. */
export function oneMotion(motion: Motion): Omit<ChangedMotion, 'assumes'> {
  return { expected: motion, least: motion, most: motion, ...NOTHING_ELSE };
}

/** True for an answer that is a refusal. */
export function isRefused(answer: object | RefusedChange): answer is RefusedChange {
  return 'refused' in answer;
}
