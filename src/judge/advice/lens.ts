/** Shorter lenses: the longest that keeps both limits, in millimetres or as a factor of the one used, and the nearest usual one. */
import { figure, figureNear, percentNear, type PredictedOutcome } from '../../run/index.js';
import { lensAdviceTexts } from '../../texts/index.js';
import { cameraAtFocal } from '../../stabilise/index.js';
import { PREDICTED_FOCAL_LENGTHS_MM } from '../../surface/index.js';
import type { MeasuredPass } from '../pass/measured-pass.js';
import { presentOf, bySettings, stepWhenItHelps, worstOf, type Foretold, type Present } from './present.js';
import { told, type ForetoldStep, type Step } from './step.js';

/** A figure in millimetres is cut to tenths below this, to whole ones above: rounding up would promise too much. */
const TENTHS_BELOW_MM = 20;

interface Lens {
  readonly factor: number;
  readonly foretold: Foretold;
}

/** A shorter lens, where one helps. */
export function lensSteps(present: Present): ForetoldStep[] {
  const { rig, sections } = present.pass;
  const { longestLens } = sections.stabilise.recommended;
  if (longestLens === null) return [];
  const usedMm = rig.focalLengthMm ?? null;
  const longest = Math.min(1, longestLens.factor);
  const usual = usualLens(present, longest, usedMm);
  const told = asTold(longest, usedMm);
  const lens = usual ?? { factor: told, foretold: atFactor(present, told) };
  return stepWhenItHelps(present, lens.foretold, {
    code: 'shorter-lens',
    text: lensText(longest, usual === null ? null : lens.factor, usedMm),
    effort: 'lens',
    ...(usual !== null && usedMm !== null && { lead: lensAdviceTexts.lead(figure(usual.factor * usedMm)) }),
  });
}

/** How long a lens may be on this floor, of a pass that passes; nothing where no longer one is known to do. */
export function longestUsableLens(pass: MeasuredPass): Step[] {
  const { rig, sections, delivery } = pass;
  const { longestLens } = sections.stabilise.recommended;
  const usedMm = rig.focalLengthMm;
  if (longestLens === null || usedMm === undefined || longestLens.limitedBy === null) return [];
  const present = presentOf(pass);
  const longestMm = longestLens.factor * usedMm;
  const longer = usualLenses(usedMm, longestMm)
    .map((mm) => ({ mm, predicted: atFactor(present, mm / usedMm).predicted }))
    .find(({ predicted }) => meets(present, predicted));
  if (longer === undefined) return [];
  const { cropPercent, residualPx } = longer.predicted;
  const { text, effect } = lensAdviceTexts.longest;
  return [
    {
      code: 'longest-lens',
      text: text(mostMm(longestMm), figure(longer.mm)),
      effect: effect(
        figure(longer.mm),
        percentNear(cropPercent.value, delivery.maxCropPercent),
        residualPx && figureNear(residualPx.value, delivery.maxResidualPx),
      ),
      predicted: longer.predicted,
    },
  ];
}

/** The words that no lens will do, where that is so. */
export function noLensDoes({ pass: { sections } }: Present): Step[] {
  if (sections.stabilise.recommended.longestLens !== null) return [];
  const { text, effect } = lensAdviceTexts.noneDoes;
  return [told('no-lens-does', text, effect)];
}

/** The longest usual lens below the limit that passes with its whole range, or that does best. */
function usualLens(present: Present, longest: number, usedMm: number | null): Lens | null {
  if (usedMm === null) return null;
  const lenses: Lens[] = [];
  for (const mm of usualLenses(0, Math.min(longest, 0.999) * usedMm)) {
    const lens = { factor: mm / usedMm, foretold: atFactor(present, mm / usedMm) };
    if (meets(present, lens.foretold.predicted)) return lens;
    lenses.push(lens);
  }
  // Where none keeps room for a repeat, the one nearest to the limit is the least change.
  return lenses[0] ?? null;
}

/** Lenses beyond one and up to another, the longest first. */
function usualLenses(beyondMm: number, upToMm: number): number[] {
  return PREDICTED_FOCAL_LENGTHS_MM.filter((mm) => mm > beyondMm && mm <= upToMm).reverse();
}

function meets(present: Present, predicted: PredictedOutcome): boolean {
  return predicted.grade === 'pass' && worstOf(predicted, present, 'high') <= 1;
}

function atFactor(present: Present, factor: number): Foretold {
  return bySettings(present, { camera: cameraAtFocal(present.pass.motion.camera, factor) });
}

/** The longest lens as the words have it, so that whoever asks for that lens gets the same figures. */
function asTold(longest: number, usedMm: number | null): number {
  if (usedMm === null) return cut(longest, 100);
  return longest >= 1 ? longest : Number(mostMm(longest * usedMm)) / usedMm;
}

/** @param taken a usual lens, as a factor of the one used; null for the longest itself */
function lensText(longest: number, taken: number | null, usedMm: number | null): string {
  if (usedMm === null) return lensAdviceTexts.factor(figure(cut(longest, 100)));
  if (longest >= 1) return lensAdviceTexts.withRoom(figure((taken ?? longest) * usedMm));
  const most = mostMm(longest * usedMm);
  if (taken === null) return lensAdviceTexts.orShorter(most);
  const takenMm = taken * usedMm;
  const [nearestMm] = usualLenses(0, longest * usedMm);
  return Math.abs(takenMm / nearestMm - 1) < 1e-9
    ? lensAdviceTexts.orShorterNearest(most, figure(takenMm))
    : lensAdviceTexts.orShorterWithRoom(most, figure(takenMm));
}

function mostMm(mm: number): string {
  return figure(cut(mm, mm < TENTHS_BELOW_MM ? 10 : 1));
}

function cut(value: number, per: number): number {
  return Math.floor(value * per) / per;
}
