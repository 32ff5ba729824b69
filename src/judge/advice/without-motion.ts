/** What to change first, from the figures of the document alone: nothing is foretold of other speeds, wheels or floors. */
import {
  boundBeside,
  figure,
  figureBeside,
  limitFigure,
  worstHeightMm,
  type MotionSection,
} from '../../run/index.js';
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
  const steps: Step[] = [];
  const { smoothingS: wantedS } = stabilise;
  const kept = stabilise.modes.find(({ mode }) => mode === 'keepMove');
  if (stabilise.mode === 'holdStill' && kept?.coverable && kept.cropPercent < stabilise.cropPercent)
    steps.push(
      told(
        'keep-the-move',
        'Keep the move instead of holding still (--stabilise keep-move).',
        `Costs ${figureBeside(kept.cropPercent, limit)} % of the width: the rest pays for slow drift of the camera.`,
      ),
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
  if (gentler && wantedS !== null) {
    const left = gentler.residualPx === null ? '' : ` and leaves ${figure(gentler.residualPx)} px of shake`;
    steps.push(
      told(
        'smooth-less',
        `Smooth over ${limitFigure(gentler.smoothingS)} s instead of ${limitFigure(wantedS)} s.`,
        `Costs ${figureBeside(gentler.cropPercent, limit)} % of the width${left}.`,
      ),
    );
  }
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
        `Take the smoothest path within ${limitFigure(limit)} % of crop instead (--stabilise smoothest).`,
        `Leaves ${figureBeside(smoothest.residualPx, delivery.maxResidualPx)} px of shake; ${smoothest.remark ?? 'the move changes a little'}.`,
      ),
    );
  const moving = stabilise.movingCropPercent;
  if (moving !== null && moving <= limit)
    steps.push(
      told(
        'moving-crop',
        'Let the crop breathe with the shake instead of holding one size (figures: its mean).',
        `Costs ${figureBeside(moving, limit)} % of the width on average.`,
      ),
    );
  // Standing still costs where the camera wanders to, which no smoother floor changes.
  const leastPercent = Math.floor((100 * limit) / stabilise.cropPercent);
  if (leastPercent >= LEAST_TARGET_PERCENT && stabilise.mode !== 'holdStill') {
    const axis = worstAngularAxis(motion);
    steps.push(
      told(
        'less-shake',
        `Take the angular shake down to about ${leastPercent} % of this pass${axis ? `, ${axis} first` : ''}: slower, other wheels, boards or rail.`,
        `The crop falls about in step with it: ${figureBeside(stabilise.cropPercent, limit)} % to ${limitFigure(limit)} %.`,
      ),
    );
  }
  steps.push(
    told(
      'allow-crop',
      `Allow ${figureBeside(stabilise.cropPercent, limit)} % of crop, and frame wider for it.`,
      `The limit of ${limitFigure(limit)} % is the crew's own.`,
    ),
  );
  return steps;
}

function changeSetup({ stabilise, delivery, findings }: AdviceInput): Step {
  if (pathDecides(stabilise))
    return stabilise.smoothingS === null
      ? told(
          'allow-crop',
          'Allow more crop: most of what stays is angular shake that the path follows for want of room.',
          'A path that follows less of the shake leaves less of it.',
        )
      : told(
          'smooth-more',
          'Smooth more: most of what stays is angular shake that the path still follows.',
          'A path that follows less of the shake leaves less of it and costs more crop.',
        );
  const left = residualRmsPx(stabilise);
  const limit = delivery.maxResidualPx;
  const target =
    left !== null && left > limit
      ? `The translational shake has to come down to about ${Math.floor((100 * limit) / left)} % of this pass.`
      : rangeBeyond(findings, limit);
  return told(
    'change-surface',
    left !== null && left > WELL_OVER * limit
      ? 'Stabilising will not help here: what stays is translational. Change the surface, rail, wheels or speed.'
      : 'What stays after stabilising is translational, and near the limit: a better surface, rail, wheels or speed makes it safe.',
    target,
  );
}

/** How far over the limit the range of a shake reaches that lies within it by itself. */
function rangeBeyond(findings: AdviceInput['findings'], limit: number): string {
  const found = findings.find(({ reason }) => reason.code === 'residual-at-limit');
  const most = found?.reason.ci95?.[1] ?? null;
  return most === null
    ? `${limitFigure(limit)} px are allowed.`
    : `It may be as much as ${boundBeside(most, limit)} px; ${limitFigure(limit)} px are allowed.`;
}

function bumpAtWorstFrame({ stabilise, surface }: AdviceInput): Step[] {
  const worstS = stabilise.worstFrameS;
  if (worstS === null) return [];
  const near = surface.bumps
    .filter(({ axlesS }) => axlesS.some((atS) => Math.abs(atS - worstS) <= BUMP_NEAR_S))
    .sort((a, b) => worstHeightMm(b) - worstHeightMm(a))[0];
  if (!near) return [];
  return [
    told(
      'shim-bump',
      `Shim or bridge at ${placeInWords(near.atM, near.atRangeM)} the ${bumpInWords(near)}: the worst frame is there.`,
      `The crop is set by the worst frame alone${near.pictureShiftPx === null ? '' : `, and this kicks the picture by ${figure(near.pictureShiftPx)} px`}.`,
    ),
  ];
}

function worstAngularAxis({ angular }: MotionSection): string | null {
  let worst: { name: string; rms: number } | null = null;
  for (const name of ['pan', 'tilt', 'roll'] as const) {
    const rms = angular[name].rmsDeg;
    if (rms !== null && (worst === null || rms > worst.rms)) worst = { name, rms };
  }
  return worst?.name ?? null;
}
