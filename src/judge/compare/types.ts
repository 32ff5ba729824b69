/** What is compared: passes with their vibration, grouped by setup and lane; and the spreads that one run cannot show. */
import type { MeasuredPass } from '../pass/measured-pass.js';

/** One run in a comparison. */
export interface ComparedPass {
  /** A folder, or its number in the log: how a reader finds it again. */
  readonly place: string;
  readonly clip: string;
  /** When it was measured, ISO 8601. */
  readonly createdAt: string;
  /** The group that it belongs to. */
  readonly setup: string;
  readonly lane: string;
  /** Name of the floor that the lane lies on; unnamed floors are taken for one. */
  readonly floor?: string | null | undefined;
  readonly direction: 'out' | 'back' | null;
  readonly passNumber: number | null;
  readonly pass: MeasuredPass;
  readonly grade: 'pass' | 'marginal' | 'fail' | 'unmeasurable';
}

/** Standard deviations of ln RMS, and how many degrees of freedom each is worth. */
export interface Spreads {
  /** Between passes of one setup on one lane. */
  readonly betweenPasses: number;
  /** Between lanes of one floor. */
  readonly betweenLanes: number;
  /** Of a setup's effect from lane to lane. */
  readonly setupByLane: number;
  readonly degrees: number;
  readonly betweenPassesFrom: 'assumed' | 'log';
  readonly betweenLanesFrom: 'assumed' | 'log';
}

/** Taken until the log knows better; guesses, and printed as such. */
export const ASSUMED_SPREADS: Spreads = Object.freeze({
  betweenPasses: 0.1,
  betweenLanes: 0.3,
  setupByLane: 0.08,
  degrees: 4,
  betweenPassesFrom: 'assumed',
  betweenLanesFrom: 'assumed',
});
