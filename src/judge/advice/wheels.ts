/** Other wheels: twice the diameter, soft tyres or hard wheels; only the best change of them is told. */
import { figure } from '../../run/index.js';
import { dollyAdviceTexts } from '../../texts/index.js';
import { isRefused, type PassChange, type RefusedChange } from '../changes/types.js';
import { byChange, stepWhenItHelps, type Present } from './present.js';
import { bestOf } from './rank.js';
import type { ForetoldStep } from './step.js';

/** The best change of wheels. */
export function wheelSteps(present: Present): ForetoldStep[] | RefusedChange {
  const { wheelDiameterM } = present.pass.rig;
  const steps: ForetoldStep[] = [];
  let refusal: RefusedChange | null = null;
  const offer = (code: string, text: string, change: PassChange): void => {
    const foretold = byChange(present, change);
    if (isRefused(foretold)) refusal ??= foretold;
    else steps.push(...stepWhenItHelps(present, foretold, { code, text, effort: 'wheels' }));
  };
  if (wheelDiameterM !== undefined)
    offer(
      'larger-wheels',
      dollyAdviceTexts.largerWheels(figure(2000 * wheelDiameterM), figure(1000 * wheelDiameterM)),
      {
        what: 'wheel',
        diameterM: 2 * wheelDiameterM,
      },
    );
  offer('soft-tyres', dollyAdviceTexts.softTyres, { what: 'wheel', tyre: 'soft' });
  offer('hard-wheels', dollyAdviceTexts.hardWheels, { what: 'wheel', tyre: 'hard' });
  return steps.length === 0 && refusal !== null ? refusal : bestOf(steps, present);
}
