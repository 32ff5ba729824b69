/** What the crew should know beside the verdict: the angular share, the surface grade, blur that stays; none of it decides. */
import {
  boundBeside,
  figure,
  limitFigure,
  type MotionSection,
  type StabiliseSection,
  type SurfaceSection,
} from '../run/index.js';
import { verdictNoteTexts } from '../texts/index.js';
import { classInWords } from '../texts/index.js';
import type { DeliveryLimits } from './delivery.js';
import { note, type Finding } from './finding.js';
import { cropNotNeeded } from './pass/grade-figures.js';
import { blurRange } from './residual.js';

/** Code of the note that a longer take may need more crop than is allowed. */
export const LONGER_TAKE_OVER_LIMIT = 'longer-take-over-limit';
/** A take that needs more than this gives no shot to stabilise, per cent of the width. */
const MOST_TAKE_PERCENT = 50;

/** The notes that the sections support, in reading order. */
export function notes(
  motion: MotionSection,
  stabilise: StabiliseSection,
  surface: SurfaceSection,
  delivery: DeliveryLimits,
): Finding[] {
  const found: Finding[] = longerTake(stabilise, delivery);
  const { value: share, ci95 } = motion.angularShare;
  if (share !== null)
    found.push(
      note(
        {
          code: 'angular-share',
          text: verdictNoteTexts.angularShare(
            figure(100 * share),
            ci95 && [figure(100 * ci95[0]), figure(100 * ci95[1])],
          ),
        },
        { value: share, ci95, unit: 'share' },
      ),
    );
  const blur = blurRange(motion, stabilise);
  if (blur !== null && blur.value > delivery.maxResidualPx)
    found.push(
      note(
        {
          code: 'blur-pulsing',
          text: verdictNoteTexts.blurPulses(figure(blur.value)),
        },
        { value: blur.value, ci95: [blur.low, blur.high], unit: 'px' },
      ),
    );
  const { psdAt01CyclesPerM, psdCi95 } = surface;
  if (surface.observable && surface.isoClass !== null)
    found.push(
      note(
        {
          code: 'surface-class',
          text: verdictNoteTexts.surfaceGrades(classInWords(surface) ?? surface.isoClass),
        },
        { value: psdAt01CyclesPerM, ci95: psdCi95, unit: 'm^3' },
      ),
    );
  else
    found.push(
      note(
        {
          code: 'surface-not-graded',
          text: verdictNoteTexts.surfaceNotGraded(surface.reason),
        },
        { value: null, ci95: null, unit: 'm^3' },
      ),
    );
  return found;
}

/** The take that is told first where 19 in 20 of its kind may need more crop than is allowed: the verdict is on the test alone. */
function longerTake(
  { mode, takeS, longerTake: takes }: StabiliseSection,
  delivery: DeliveryLimits,
): Finding[] {
  const take = takes.find((one) => one.takeS === takeS);
  const limit = delivery.maxCropPercent;
  // Takes are foretold where the move is kept; without both figures there is no bound to hold a limit against.
  if (mode !== 'keepMove' || !take || take.medianPercent === null || take.upper95Percent === null) return [];
  const { medianPercent: value, upper95Percent: high, atLeast } = take;
  if (high <= limit || cropNotNeeded({ value, low: value, high }, delivery)) return [];
  const most = boundBeside(high, limit);
  const need =
    high > MOST_TAKE_PERCENT
      ? verdictNoteTexts.needMoreThanHalf
      : atLeast
        ? verdictNoteTexts.needOrMore(most)
        : verdictNoteTexts.needUpTo(most);
  return [
    note(
      {
        code: LONGER_TAKE_OVER_LIMIT,
        text: verdictNoteTexts.longerTake(figure(takeS), need, limitFigure(limit)),
      },
      { value, ci95: null, unit: '%' },
    ),
  ];
}
