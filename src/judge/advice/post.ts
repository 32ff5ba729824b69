/** Steps that are taken in post: another smoothing, another way of stabilising, a crop that moves. Nothing is rolled again. */
import { limitFigure, type Ranged } from '../../run/index.js';
import { postAdviceTexts } from '../../texts/index.js';
import { MOVING_ZOOM_WINDOW_S, smoothBelow, smoothingOf } from '../../stabilise/index.js';
import { figuresOf } from '../pass/outcome.js';
import { gradeFigures } from '../pass/grade-figures.js';
import { byOutcome, bySettings, stepWhenItHelps, worstOf, worstShare, type Present } from './present.js';
import type { ForetoldStep } from './step.js';

/** The settings that help. */
export function postSteps(present: Present): ForetoldStep[] {
  return [
    ...keepTheMove(present),
    ...otherSmoothing(present),
    ...smoothestPath(present),
    ...movingCrop(present),
  ];
}

/** Standing still pays for slow drift of the camera. */
function keepTheMove(present: Present): ForetoldStep[] {
  if (present.pass.choice.mode !== 'holdStill') return [];
  const kept = bySettings(present, { choice: { mode: 'keepMove', smoothingS: null } });
  return stepWhenItHelps(present, kept, {
    code: 'keep-the-move',
    text: postAdviceTexts.keepTheMove.text,
    effort: 'post',
  });
}

/** The smoothing of the trade-off curve that brings the worst figure down most; the strongest of those that meet both limits. */
function otherSmoothing(present: Present): ForetoldStep[] {
  const { pass, limits } = present;
  const { mode, smoothingS: wantedS } = pass.choice;
  if (mode !== 'keepMove') return [];
  const nowS = wantedS ?? smoothingOf(pass.motion);
  const others = pass.sections.stabilise.curve
    .filter(({ smoothingS }) => Math.abs(smoothingS / nowS - 1) > 1e-9)
    .map(({ smoothingS, cropPercent, residualPx }) => ({
      smoothingS,
      worst: worstShare(cropPercent, residualPx, limits),
    }));
  const meeting = others.filter(({ worst }) => worst <= 1);
  // Less smoothing takes less shake out, so of those that do the mildest change of the picture is best.
  const best =
    meeting.length > 0
      ? meeting.reduce((a, b) =>
          Math.abs(Math.log(b.smoothingS / nowS)) < Math.abs(Math.log(a.smoothingS / nowS)) ? b : a,
        )
      : others.reduce<(typeof others)[number] | null>(
          (a, b) => (a === null || b.worst < a.worst ? b : a),
          null,
        );
  if (best === null) return [];
  const less = best.smoothingS < nowS;
  return stepWhenItHelps(present, bySettings(present, { choice: { smoothingS: best.smoothingS } }), {
    code: less ? 'smooth-less' : 'smooth-more',
    text: postAdviceTexts.otherSmoothing.text(
      limitFigure(best.smoothingS),
      limitFigure(Number(nowS.toFixed(2))),
    ),
    effort: 'post',
  });
}

function smoothestPath(present: Present): ForetoldStep[] {
  const { pass } = present;
  const here = pass.sections.stabilise.modes.find(({ mode }) => mode === 'smoothest');
  if (pass.choice.mode === 'smoothest' || !here?.coverable) return [];
  // What it costs and leaves is in the document already: the search for the path is long.
  if (worstShare(here.cropPercent, here.residualPx, repeatFits(present)) >= worstOf(present.now, present))
    return [];
  const foretold = bySettings(present, { choice: { mode: 'smoothest', smoothingS: null } });
  return stepWhenItHelps(present, foretold, {
    code: 'smoothest-path',
    text: postAdviceTexts.smoothestPath.text(limitFigure(pass.delivery.maxCropPercent), here.remark),
    effort: 'post',
  });
}

/** The smoothest path of a repeat fits into the crop that it is given. */
function repeatFits({ limits, pass }: Present): Present['limits'] {
  return { ...limits, cropPercent: Math.max(limits.cropPercent, pass.delivery.maxCropPercent) };
}

/** The same way with a crop that breathes with the shake: its mean counts. */
function movingCrop(present: Present): ForetoldStep[] {
  const { pass, measured, now } = present;
  // The smoothest path fills the crop that it is given: what it leaves free in some frames is not worth a crop that moves.
  if (pass.choice.mode === 'smoothest') return [];
  const window = Math.round(MOVING_ZOOM_WINDOW_S * pass.motion.rateHz);
  const meanPercent = (motion: typeof measured.expected): number => {
    const shares = smoothBelow(figuresOf(pass, motion).way.crop.halfWidthShare, window);
    return 100 * (1 - shares.reduce((sum, share) => sum + share, 0) / Math.max(1, shares.length));
  };
  const value = meanPercent(measured.expected);
  const ends = [measured.least, measured.most].map((motion) =>
    motion === measured.expected ? value : meanPercent(motion),
  );
  const cropPercent: Ranged = { value, low: Math.min(value, ...ends), high: Math.max(value, ...ends) };
  const predicted = {
    ...now,
    cropPercent,
    grade: gradeFigures(cropPercent, now.residualPx, pass.delivery),
  };
  const foretold = byOutcome(present, predicted);
  return stepWhenItHelps(present, foretold, {
    code: 'moving-crop',
    text: postAdviceTexts.movingCrop.text,
    effort: 'post',
  });
}
