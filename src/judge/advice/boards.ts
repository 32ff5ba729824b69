/** Boards or rail over the floor: the roughest class that keeps the limits (Gd(n0) in m^3), and surfaces measured on runs of their own. */
import { spokenGrade, surfaceClass } from '../../surface/index.js';
import { floorAdviceTexts } from '../../texts/index.js';
import { applyChanges } from '../changes/apply-changes.js';
import { isRefused, NOTHING_ELSE, type RefusedChange } from '../changes/types.js';
import { scaledVibration } from '../changes/with-vibration.js';
import { byChange, byMotion, shareOfMotion, stepWhenItHelps, type Present } from './present.js';
import type { ForetoldStep } from './step.js';

/** Glass: nothing that is laid is smoother, m^3. */
const SMOOTHEST_M3 = 1e-9;
/** Halvings of ln Gd: from six powers of ten to within a fifth of a class. */
const HALVINGS = { fine: 6, coarse: 3 } as const;

/** Boards or rail, told as a class and a word. */
export function boardSteps(present: Present): ForetoldStep[] | RefusedChange {
  const roughest = roughestThatMeets(present);
  if (roughest === null) return [];
  if (typeof roughest !== 'number') return roughest;
  // The whole class has to do: the one that ends below what was found.
  const own = surfaceClass(roughest);
  const fits = own.upperM3 !== null && own.upperM3 <= roughest * 1.0001 ? own : surfaceClass(own.meanM3 / 4);
  const foretold = byChange(present, { what: 'smoothSurface', psdM3: fits.meanM3 });
  if (isRefused(foretold)) return foretold;
  return stepWhenItHelps(present, foretold, {
    code: 'boards-or-rail',
    text: floorAdviceTexts.layBoards(fits.name, spokenGrade(fits.meanM3, false).word),
    lead: floorAdviceTexts.onClass(fits.name),
    effort: 'boards',
  });
}

/** The roughest floor that keeps the limits at the upper end of the prediction, or as expected where none does so. */
function roughestThatMeets(present: Present): number | RefusedChange | null {
  const { psdAsRolled, psdAt01CyclesPerM } = present.pass.sections.surface;
  const nowM3 = psdAsRolled ?? psdAt01CyclesPerM;
  const smoothest = applyChanges(present.pass, [{ what: 'smoothSurface', psdM3: SMOOTHEST_M3 }]);
  if (isRefused(smoothest)) return smoothest;
  if (nowM3 === null) return null;
  for (const end of ['most', 'expected'] as const) {
    const meets = (psdM3: number): boolean => {
      const changed = applyChanges(present.pass, [{ what: 'smoothSurface', psdM3 }]);
      return !isRefused(changed) && shareOfMotion(present, changed[end]) <= 1;
    };
    if (!meets(SMOOTHEST_M3)) continue;
    let [within, beyond] = [SMOOTHEST_M3, nowM3];
    for (let i = 0; i < (present.coarse ? HALVINGS.coarse : HALVINGS.fine); i++) {
      const middle = Math.sqrt(within * beyond);
      if (meets(middle)) within = middle;
      else beyond = middle;
    }
    return within;
  }
  return null;
}

/** Surfaces that were measured on runs of their own, by what the document foretells of them: all axes come down alike. */
export function laidSurfaceSteps(present: Present): ForetoldStep[] {
  const { pass } = present;
  return pass.sections.surface.predictions.flatMap(({ change, label, ratio }) => {
    if (change !== 'surface' || ratio === null) return [];
    const scaled = (factor: number): typeof pass.motion => scaledVibration(pass.motion, () => factor);
    const foretold = byMotion(present, {
      expected: scaled(ratio.value),
      least: scaled(ratio.low),
      most: scaled(ratio.high),
      ...NOTHING_ELSE,
      assumes: [floorAdviceTexts.allAxesAlike],
    });
    return stepWhenItHelps(present, foretold, {
      code: 'measured-surface',
      text: floorAdviceTexts.rollOn(label),
      effort: 'boards',
    });
  });
}
