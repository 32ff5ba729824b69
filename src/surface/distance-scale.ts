/** How far distances along the run can be trusted, as a share, and what a known joint spacing says of it. */
import { TWO_SIDED_95 } from '../numerics/index.js';
import type { Rig, Warning } from '../run/index.js';
import { floorWarningTexts } from '../texts/index.js';
import type { JointRow } from './events/types.js';

/** A travel measured with a tape, and a speed read from a motor (95 %); common practice, no source. */
const TAPE_RANGE = 0.01;
const SPEED_RANGE = 0.02;
/** A row whose spacing is further from the given one is another row. */
const SAME_ROW = 0.06;
/** A difference below this is not worth a word. */
const WORTH_A_WORD = 0.01;

/** Half of the 95 % range of the scale of distances, as a share. */
export function distanceRange({ travelM }: Rig): number {
  return travelM === undefined ? SPEED_RANGE : TAPE_RANGE;
}

/** Joints whose spacing is known are the best tape on the floor: a word when they say that travel or speed are off. */
export function scaleWarnings(row: JointRow | null, { jointSpacingM, travelM }: Rig): Warning[] {
  if (jointSpacingM === undefined) return [];
  const word = (code: string, text: string): Warning[] => [{ code, text, atS: null }];
  const told = jointSpacingM.toFixed(3);
  if (row === null) return word('joint-row-not-seen', floorWarningTexts.jointRowNotSeen(told));
  const off = row.spacingM / jointSpacingM - 1;
  const range = (TWO_SIDED_95 * row.spacingSdM) / jointSpacingM;
  if (Math.abs(off) > SAME_ROW)
    return word('joint-spacing-other', floorWarningTexts.jointSpacingOther(row.spacingM.toFixed(3), told));
  if (Math.abs(off) < Math.max(WORTH_A_WORD, range)) return [];
  const given = travelM === undefined ? 'speed' : 'travel';
  return word(
    'joint-spacing-differs',
    floorWarningTexts.jointSpacingDiffers(
      row.spacingM.toFixed(3),
      told,
      given,
      (100 * Math.abs(off)).toFixed(1),
      off > 0 ? 'large' : 'small',
    ),
  );
}
