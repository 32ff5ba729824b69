/** Crop (per cent of the width), shake left (px RMS of the delivery) and grade along the smoothing (s), all else as a setting has it. */
import type { PredictedOutcome } from '../../run/index.js';
import { smoothingFits } from '../../stabilise/index.js';
import type { Setting } from '../what-if/setting.js';
import { foretoldFigures, keepingMove } from './answer-of.js';

/** One smoothing. */
export interface TradeOffPoint extends PredictedOutcome {
  readonly smoothingS: number;
}

/** The smoothings that fit the motion, ascending, with what each would be answered. @param smoothingsS to look at, seconds */
export function tradeOff(setting: Setting, smoothingsS: readonly number[]): TradeOffPoint[] {
  return smoothingsS
    .filter((smoothingS) => smoothingFits(setting.moved.expected, smoothingS))
    .sort((a, b) => a - b)
    .map((smoothingS) => ({
      smoothingS,
      ...foretoldFigures(keepingMove(setting, smoothingS)).figures.outcome,
    }));
}
