/**
 * Whether the camera turns far less than a deck on wheels must: what lifts one axle lifts and tilts the deck together, about twice
 * the height over the wheelbase, whatever the floor is like. A picture that was turned back against the shake keeps the lift, which
 * shows as parallax, and loses the tilt.
 *
 * A head that levels itself does the same honestly: where one was told, or somebody operates the head, nothing is said.
 */
import { hasFigure, type Rig, type Warning } from '../../run/index.js';
import { motionDoubtTexts } from '../../texts/index.js';
import type { AxisEstimate, Motion } from '../types.js';

/** Turn over what the lift asks for, below which it is missing; decks that were filmed or simulated show 0.3 and more. */
const MISSING_SHARE = 0.08;
/** The lift must stand this far above its noise, and be at least this large, m RMS. */
const OVER_FLOOR = 3;
const LEAST_LIFT_M = 0.1e-3;

/** The doubt, for a pass whose wheelbase and scale are known. */
export function deckDoubt({ axes, translationUnit, observable, unreliable }: Motion, rig: Rig): Warning[] {
  const { vertical, tilt, roll } = axes;
  const { wheelbaseM, head } = rig;
  if (wheelbaseM === undefined || head === 'selfLevelling' || head === 'operated') return [];
  if (translationUnit !== 'm' || observable !== 'yes' || unreliable.some(({ axis }) => axis === 'vertical'))
    return [];
  const liftM = hasFigure(vertical.status) ? (vertical.rms ?? 0) : 0;
  if (liftM < LEAST_LIFT_M || liftM < OVER_FLOOR * vertical.floor) return [];
  // Looking along the travel the deck tilts the lens, looking across it rolls it.
  const turnRad = Math.hypot(atMost(tilt), atMost(roll));
  if (turnRad > (MISSING_SHARE * 2 * liftM) / wheelbaseM) return [];
  const text = motionDoubtTexts.turnMissing((1000 * liftM).toPrecision(2));
  return [{ code: 'stabilised-in-camera', text, atS: null }];
}

const atMost = ({ below, ci95 }: AxisEstimate): number => (ci95 ? ci95[1] : below);
