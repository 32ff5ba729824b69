/** What to change first, from the figures of the document alone: nothing is foretold of other speeds, wheels or floors. */
import {
  boundNear,
  figure,
  figureNear,
  limitFigure,
  worstAngularAxis,
  worstHeightMm,
} from '../../run/index.js';
import {
  floorAdviceTexts,
  framingAdviceTexts,
  postAdviceTexts,
  setupAdviceTexts,
} from '../../texts/index.js';
import { bumpInWords, placeInWords } from '../../texts/index.js';
import { pathDecides, residualRmsPx } from '../residual.js';
import { told, type AdviceInput, type Step } from './step.js';

/** Shake is not asked to come down to less than this share of the pass: no floor gives that. */
const LEAST_TARGET_PERCENT = 5;
/** So far over the limit that no setting of a stabiliser brings it back. */
const WELL_OVER = 1.2;
/** A bump is taken for the cause of the worst frame when the wheels meet it within this time, seconds. */
const BUMP_NEAR_S = 0.3;

/** The steps that the findings on crop and shake left ask for, in the order of use; none where they ask for none. */
export function stepsWithoutMotion(input: AdviceInput): Step[] {
  const codes = new Set(input.findings.map(({ reason }) => reason.code));
  const residualFails = codes.has('residual-over-limit');
  const cropFails = codes.has('crop-over-limit') || codes.has('crop-at-limit');
  const nearLimit = !residualFails && codes.has('residual-at-limit');
  return [
    ...(residualFails ? [changeSetup(input)] : []),
    ...(cropFails ? lessCrop(input) : []),
    ...(residualFails || cropFails ? bumpAtWorstFrame(input) : []),
    ...(nearLimit ? [changeSetup(input)] : []),
  ];
}

function lessCrop({ motion, stabilise, delivery }: AdviceInput): Step[] {
  const limit = delivery.maxCropPercent;
  const { keepTheMove, otherSmoothing, smoothestPath, movingCrop } = postAdviceTexts;
  const { lessShake } = setupAdviceTexts;
  const { allowThis } = framingAdviceTexts;
  const steps: Step[] = [];
  const { smoothingS: wantedS } = stabilise;
  const kept = stabilise.modes.find(({ mode }) => mode === 'keepMove');
  if (stabilise.mode === 'holdStill' && kept?.coverable && kept.cropPercent < stabilise.cropPercent)
    steps.push(
      told('keep-the-move', keepTheMove.text, keepTheMove.effect(figureNear(kept.cropPercent, limit))),
    );
  const gentler =
    wantedS === null
      ? undefined
      : stabilise.curve
          .filter(
            ({ smoothingS, cropPercent, residualPx }) =>
              smoothingS < wantedS &&
              cropPercent <= limit &&
              (residualPx === null || residualPx <= delivery.maxResidualPx),
          )
          .sort((a, b) => b.smoothingS - a.smoothingS)[0];
  if (gentler && wantedS !== null)
    steps.push(
      told(
        'smooth-less',
        otherSmoothing.text(limitFigure(gentler.smoothingS), limitFigure(wantedS)),
        otherSmoothing.effect(
          figureNear(gentler.cropPercent, limit),
          gentler.residualPx === null ? null : figure(gentler.residualPx),
        ),
      ),
    );
  const smoothest = stabilise.modes.find(({ mode }) => mode === 'smoothest');
  if (
    stabilise.mode !== 'smoothest' &&
    smoothest?.coverable &&
    smoothest.cropPercent <= limit &&
    smoothest.residualPx !== null &&
    smoothest.residualPx <= delivery.maxResidualPx
  )
    steps.push(
      told(
        'smoothest-path',
        smoothestPath.text(limitFigure(limit)),
        smoothestPath.effect(figureNear(smoothest.residualPx, delivery.maxResidualPx), smoothest.remark),
      ),
    );
  const moving = stabilise.movingCropPercent;
  if (moving !== null && moving <= limit)
    steps.push(told('moving-crop', movingCrop.text, movingCrop.effect(figureNear(moving, limit))));
  // Standing still costs where the camera wanders to, which no smoother floor changes.
  const leastPercent = Math.floor((100 * limit) / stabilise.cropPercent);
  if (leastPercent >= LEAST_TARGET_PERCENT && stabilise.mode !== 'holdStill') {
    const axis = worstAngularAxis(motion);
    steps.push(
      told(
        'less-shake',
        lessShake.text(leastPercent, axis),
        lessShake.effect(figureNear(stabilise.cropPercent, limit), limitFigure(limit)),
      ),
    );
  }
  steps.push(
    told(
      'allow-crop',
      allowThis.text(figureNear(stabilise.cropPercent, limit)),
      allowThis.effect(limitFigure(limit)),
    ),
  );
  return steps;
}

function changeSetup({ stabilise, delivery, findings }: AdviceInput): Step {
  const { smoothMore } = postAdviceTexts;
  const { allowMore } = framingAdviceTexts;
  if (pathDecides(stabilise))
    return stabilise.smoothingS === null
      ? told('allow-crop', allowMore.text, allowMore.effect)
      : told('smooth-more', smoothMore.text, smoothMore.effect);
  const left = residualRmsPx(stabilise);
  const { changeSurface } = setupAdviceTexts;
  const limit = delivery.maxResidualPx;
  const target =
    left !== null && left > limit
      ? changeSurface.downTo(Math.floor((100 * limit) / left))
      : rangeBeyond(findings, limit);
  return told(
    'change-surface',
    left !== null && left > WELL_OVER * limit ? changeSurface.wellOver : changeSurface.nearLimit,
    target,
  );
}

/** How far over the limit the range of a shake reaches that lies within it by itself. */
function rangeBeyond(findings: AdviceInput['findings'], limit: number): string {
  const found = findings.find(({ reason }) => reason.code === 'residual-at-limit');
  const most = found?.reason.ci95?.[1] ?? null;
  const { allowed, mayBeAsMuch } = setupAdviceTexts.changeSurface;
  return most === null
    ? allowed(limitFigure(limit))
    : mayBeAsMuch(boundNear(most, limit), limitFigure(limit));
}

function bumpAtWorstFrame({ stabilise, surface }: AdviceInput): Step[] {
  const worstS = stabilise.worstFrameS;
  if (worstS === null) return [];
  const near = surface.bumps
    .filter(({ axlesS }) => axlesS.some((atS) => Math.abs(atS - worstS) <= BUMP_NEAR_S))
    .sort((a, b) => worstHeightMm(b) - worstHeightMm(a))[0];
  if (!near) return [];
  const { text, effect } = floorAdviceTexts.worstFrame;
  return [
    told(
      'shim-bump',
      text(placeInWords(near.atM, near.atRangeM), bumpInWords(near)),
      effect(near.pictureShiftPx === null ? null : figure(near.pictureShiftPx)),
    ),
  ];
}
