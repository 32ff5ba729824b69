/** What to change first, as far as it can be computed from the sections of the run: each step with what it brings. */
import {
  figure,
  figureBeside,
  limitFigure,
  placeInWords,
  bumpInWords,
  worstHeightMm,
  type MotionSection,
  type StabiliseSection,
  type SurfaceSection,
  type VerdictSection,
} from '../run/index.js';
import type { DeliveryLimits } from './delivery.js';
import { shakeInvisible } from './crop.js';
import type { Advice, Finding, Grade } from './finding.js';
import type { MeasuredPass } from './pass/measured-pass.js';
import { pathDecides, residualRmsPx } from './residual.js';

/** Below this the next lens in the case is too far off to be worth naming. */
const LENS_WORTH_PERCENT = 1;

/** Shake is not asked to come down to less than this share of the pass: no floor gives that. */
const LEAST_TARGET_PERCENT = 5;

/** From this angular share on the shake is called mostly angular; below its mirror image, mostly translational. */
const MOSTLY = 0.7;

/** A bump is taken for the cause of the worst frame when the wheels meet it within this time, seconds. */
const BUMP_NEAR_S = 0.3;

/** What the advice is computed from. */
export interface AdviceInput {
  readonly grade: Grade;
  readonly findings: readonly Finding[];
  readonly motion: MotionSection;
  readonly stabilise: StabiliseSection;
  readonly surface: SurfaceSection;
  readonly delivery: DeliveryLimits;
  /** Null: the steps come without predictions. */
  readonly pass: MeasuredPass | null;
}

/** The advice in the order of use, the first first; never empty. */
export function adviceFor(input: AdviceInput): VerdictSection['advice'] {
  return stepsFor(input).map((step) => ({ ...step, predicted: null }));
}

function stepsFor(input: AdviceInput): Advice[] {
  const { grade, findings, stabilise, delivery } = input;
  const codes = new Set(findings.map(({ reason }) => reason.code));
  if (grade === 'unmeasurable') return reshoot(codes);
  const steps: Advice[] = [];
  const residualFails = codes.has('residual-over-limit');
  const cropFails = codes.has('crop-over-limit') || codes.has('crop-at-limit');

  if (residualFails) steps.push(changeSetup(input));
  if (cropFails) steps.push(...lessCrop(input));
  if (residualFails || cropFails) steps.push(...bumpAtWorstFrame(input));
  if (!residualFails && codes.has('residual-at-limit')) steps.push(changeSetup(input));
  if (!cropFails && !residualFails) {
    if (shakeInvisible(input.motion, stabilise, delivery)) {
      if (steps.length === 0 && grade === 'pass')
        steps.push({
          code: 'nothing-needed',
          text: 'Nothing needed.',
          effect: 'The shake is too small to be seen at the delivery size.',
        });
    } else steps.push(frameWider(input));
  }
  if (codes.has('translation-not-measured')) steps.push(showDepth(input.motion));
  const { readout, distortion } = input.motion;
  if (codes.has('residual-not-reliable') && distortion.source !== 'given' && distortion.state !== 'notNeeded')
    steps.push({
      code: 'calibrate-lens',
      text: 'Calibrate the lens once with "trundle lens" and measure this clip again.',
      effect: 'Tells how the lens bends lines, so that the translational part can be relied upon.',
    });
  if (codes.has('residual-not-reliable') && readout.state === 'corrected')
    steps.push({
      code: 'faster-readout',
      text: 'Shoot the pass again in a recording mode with a faster readout, or at a higher frame rate.',
      effect: 'Lets the frames follow the knocks, so that the translational part can be relied upon.',
    });
  if (codes.has('readout-wobble'))
    steps.push({
      code: 'correct-rows',
      text: 'Correct the rolling shutter row by row in post, or use a recording mode with a faster readout.',
      effect: 'Takes the wobble within the frame down with the readout time.',
    });
  if (codes.has('blur-pulsing'))
    steps.push({
      code: 'shorter-shutter',
      text: shorterShutter(stabilise),
      effect:
        'Blur that pulses falls in step with the shutter angle; the exposure has to be made up by light or stop.',
    });
  return steps.length > 0
    ? steps
    : [{ code: 'nothing-needed', text: 'Nothing needed.', effect: 'All limits are met.' }];
}

function shorterShutter({ recommended: { shutterAngleDeg } }: StabiliseSection): string {
  if (shutterAngleDeg === null) return 'Use a shorter shutter.';
  // At one degree the search ended without an angle that is short enough.
  if (shutterAngleDeg <= 1) return 'Use the shortest shutter there is; none takes the pulsing away.';
  return `Use a shutter of ${shutterAngleDeg} degrees or less.`;
}

/** What would let the next pass tell translation from rotation. */
function showDepth({ separation }: MotionSection): Advice {
  const [first] = separation.unsplit?.change ?? [];
  return {
    code: 'show-depth',
    text:
      first?.text ??
      'Put things at two or three distances in the shot, some within 2.5 m and some beyond 4 m, and roll the pass again.',
    effect: 'Lets the translational part be measured.',
  };
}

/** ", with 27.6 mm or shorter", where the lens is known and the difference worth a change of lens; else nothing. */
export function lensToFrameWith({
  focalLengthMm,
  overscanPercent,
}: NonNullable<StabiliseSection['recommended']['forRepeat']>): string {
  return focalLengthMm === null || overscanPercent < LENS_WORTH_PERCENT
    ? ''
    : `, with ${figure(focalLengthMm)} mm or shorter`;
}

function frameWider({ motion, stabilise, delivery }: AdviceInput): Advice {
  const { forRepeat } = stabilise.recommended;
  const share = motion.angularShare.value;
  const told = motion.separation.unsplit === null;
  const mostly =
    told && share !== null && share >= MOSTLY ? 'The shake is mostly angular: stabilise in post. ' : '';
  if (forRepeat === null)
    return {
      code: 'frame-wider',
      text: `${mostly}No wider lens leaves room for a repeat of this pass.`,
      effect: 'More than half of the picture would have to go.',
    };
  const { overscanPercent, overscanPx } = forRepeat;
  const lens = lensToFrameWith(forRepeat);
  const take = stabilise.longerTake.find(({ takeS }) => takeS === stabilise.takeS);
  const upper = take?.upper95Percent ?? null;
  const longer =
    take === undefined || upper === null || upper >= 50
      ? ''
      : ` For a ${figure(take.takeS)} s take on a floor like this frame ${take.atLeast ? 'at least ' : ''}${figure(100 / (1 - upper / 100) - 100)} % wider.`;
  return {
    code: 'frame-wider',
    text: `${mostly}Frame ${figure(overscanPercent)} % wider than the final picture (${figure(overscanPx)} px of ${delivery.widthPx})${lens}.`,
    effect: `Pays for the crop of ${figure(stabilise.cropPercent)} % and for a repeat of the move, reserve included.${longer}`,
  };
}

function lessCrop({ motion, stabilise, delivery }: AdviceInput): Advice[] {
  const limit = delivery.maxCropPercent;
  const steps: Advice[] = [];
  const { smoothingS: wantedS } = stabilise;
  const kept = stabilise.modes.find(({ mode }) => mode === 'keepMove');
  if (stabilise.mode === 'holdStill' && kept?.coverable && kept.cropPercent < stabilise.cropPercent)
    steps.push({
      code: 'keep-the-move',
      text: 'Keep the move instead of holding still (--stabilise keep-move).',
      effect: `Costs ${figureBeside(kept.cropPercent, limit)} % of the width: the rest pays for slow drift of the camera.`,
    });
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
    steps.push({
      code: 'smooth-less',
      text: `Smooth over ${limitFigure(gentler.smoothingS)} s instead of ${limitFigure(wantedS)} s.`,
      effect: `Costs ${figureBeside(gentler.cropPercent, limit)} % of the width${left}.`,
    });
  }
  const smoothest = stabilise.modes.find(({ mode }) => mode === 'smoothest');
  if (
    stabilise.mode !== 'smoothest' &&
    smoothest?.coverable &&
    smoothest.cropPercent <= limit &&
    smoothest.residualPx !== null &&
    smoothest.residualPx <= delivery.maxResidualPx
  )
    steps.push({
      code: 'smoothest-path',
      text: `Take the smoothest path within ${limitFigure(limit)} % of crop instead (--stabilise smoothest).`,
      effect: `Leaves ${figureBeside(smoothest.residualPx, delivery.maxResidualPx)} px of shake; ${smoothest.remark ?? 'the move changes a little'}.`,
    });
  const moving = stabilise.movingCropPercent;
  if (moving !== null && moving <= limit)
    steps.push({
      code: 'moving-crop',
      text: 'Let the crop breathe with the shake instead of holding one size.',
      effect: `Costs ${figureBeside(moving, limit)} % of the width on average.`,
    });
  // Standing still costs where the camera wanders to, which no smoother floor changes.
  const leastPercent = Math.floor((100 * limit) / stabilise.cropPercent);
  if (leastPercent >= LEAST_TARGET_PERCENT && stabilise.mode !== 'holdStill') {
    const axis = worstAngularAxis(motion);
    steps.push({
      code: 'less-shake',
      text: `Take the angular shake down to about ${leastPercent} % of this pass${axis ? `, ${axis} first` : ''}: slower, other wheels, boards or rail.`,
      effect: `The crop falls about in step with it: ${figureBeside(stabilise.cropPercent, limit)} % to ${limitFigure(limit)} %.`,
    });
  }
  steps.push({
    code: 'allow-crop',
    text: `Or allow ${figureBeside(stabilise.cropPercent, limit)} % of crop, and frame wider for it.`,
    effect: `The limit of ${limitFigure(limit)} % is the crew's own.`,
  });
  return steps;
}

/** So far over the limit that no setting of a stabiliser brings it back. */
const WELL_OVER = 1.2;

function changeSetup({ stabilise, delivery }: AdviceInput): Advice {
  if (pathDecides(stabilise))
    return stabilise.smoothingS === null
      ? {
          code: 'allow-crop',
          text: 'Allow more crop: most of what stays is angular shake that the path follows for want of room.',
          effect: 'A path that follows less of the shake leaves less of it.',
        }
      : {
          code: 'smooth-more',
          text: 'Smooth more: most of what stays is angular shake that the path still follows.',
          effect: 'A path that follows less of the shake leaves less of it and costs more crop.',
        };
  const left = residualRmsPx(stabilise);
  const limit = delivery.maxResidualPx;
  const target =
    left !== null && left > limit
      ? `The translational shake has to come down to about ${Math.floor((100 * limit) / left)} % of this pass.`
      : 'Takes the translational shake clear of the limit.';
  return {
    code: 'change-surface',
    text:
      left !== null && left > WELL_OVER * limit
        ? 'Stabilising will not help here: what stays is translational. Change the surface, rail, wheels or speed.'
        : 'What stays after stabilising is translational, and near the limit: a better surface, rail, wheels or speed makes it safe.',
    effect: target,
  };
}

function bumpAtWorstFrame({ stabilise, surface }: AdviceInput): Advice[] {
  const worstS = stabilise.worstFrameS;
  if (worstS === null) return [];
  const near = surface.bumps
    .filter(({ axlesS }) => axlesS.some((atS) => Math.abs(atS - worstS) <= BUMP_NEAR_S))
    .sort((a, b) => worstHeightMm(b) - worstHeightMm(a))[0];
  if (!near) return [];
  return [
    {
      code: 'shim-bump',
      text: `Shim or bridge at ${placeInWords(near.atM, near.atRangeM)} the ${bumpInWords(near)}: the worst frame is there.`,
      effect: `The crop is set by the worst frame alone${near.pictureShiftPx === null ? '' : `, and this kicks the picture by ${figure(near.pictureShiftPx)} px`}.`,
    },
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

const RESHOOT: Record<string, Advice> = {
  'too-few-tracks': {
    code: 'reshoot-light-texture',
    text: 'Shoot again with more light and something with texture in view, such as boards, tape marks or a patterned cloth.',
    effect: 'Gives points that can be followed.',
  },
  'coverage-too-small': {
    code: 'reshoot-fill-frame',
    text: 'Shoot again with texture spread over the whole frame: tilt to include the floor or hang marks on the plain wall.',
    effect: 'Lets roll be told from a shift.',
  },
  'subject-fills-frame': {
    code: 'reshoot-without-subject',
    text: 'Shoot the test pass again without people or moving things in the frame.',
    effect: 'Leaves the room itself to measure against.',
  },
  'no-camera-path': {
    code: 'reshoot-plain',
    text: 'Shoot the test pass again with nothing moving in the frame and stabilising in the camera or lens off; give the lens distortion of a very wide lens.',
    effect: 'Leaves one camera path that explains the picture.',
  },
  'noise-too-large': {
    code: 'reshoot-cleaner',
    text: 'Shoot again with more light, a shorter shutter and a higher data rate.',
    effect: 'Less grain, blur and compression in what is measured.',
  },
  'too-short': {
    code: 'reshoot-longer',
    text: 'Roll a longer pass: 10 s is the working length.',
    effect: 'Holds enough periods of the slowest vibration.',
  },
  'too-many-frames-rejected': {
    code: 'reshoot-one-take',
    text: 'Use one take with no cuts and no repeated frames, or set in and out points around them.',
    effect: 'Leaves a stretch that can be measured.',
  },
};

function reshoot(codes: ReadonlySet<string>): Advice[] {
  const steps = Object.entries(RESHOOT)
    .filter(([code]) => codes.has(code))
    .map(([, advice]) => advice);
  if (steps.length > 0) return steps;
  return [
    {
      code: 'reshoot',
      text: 'Shoot the test pass again: more light, texture across the frame, nobody in it, 10 s or longer.',
      effect: 'Gives the picture enough to be measured against.',
    },
  ];
}
