/** How much wider to frame on the day, per cent of the final picture and millimetres: room for the crop and a repeat of the move. */
import { figure, percentUp, type StabiliseSection } from '../../run/index.js';
import { framingAdviceTexts, type WiderFrame } from '../../texts/index.js';
import { told, type AdviceInput, type Step } from './step.js';

/** Below this the next lens in the case is too far off to be worth naming. */
const LENS_WORTH_PERCENT = 1;
/** From this angular share on the shake is called mostly angular. */
const MOSTLY = 0.7;
/** A longer take that needs more than this is not told. */
const MOST_TAKE_PERCENT = 50;

type ForRepeat = NonNullable<StabiliseSection['recommended']['forRepeat']>;

/** ", with a lens of 27.6 mm or shorter", where the lens is known and the difference worth a change of lens; else nothing. */
export function lensToFrameWith(forRepeat: ForRepeat): string {
  return framingAdviceTexts.withLens(lensMm(forRepeat));
}

/** The frame as it is told. @param ofPx width of the final picture */
export function widerFrame(forRepeat: ForRepeat, ofPx: number): WiderFrame {
  const { overscanPercent, overscanPx } = forRepeat;
  return { percent: figure(overscanPercent), px: figure(overscanPx), ofPx, lensMm: lensMm(forRepeat) };
}

function lensMm({ focalLengthMm, overscanPercent }: ForRepeat): string | null {
  return focalLengthMm === null || overscanPercent < LENS_WORTH_PERCENT ? null : figure(focalLengthMm);
}

/** The figure for the day where the clip is to be stabilised. */
export function frameWider({ motion, stabilise, delivery }: AdviceInput): Step {
  const { forRepeat } = stabilise.recommended;
  const share = motion.angularShare.value;
  const known = motion.separation.unsplit === null;
  const mostly = known && share !== null && share >= MOSTLY;
  const { noRoom, frameWider: wider } = framingAdviceTexts;
  if (forRepeat === null) return told('frame-wider', noRoom.text(mostly), noRoom.effect);
  return told(
    'frame-wider',
    wider.text(widerFrame(forRepeat, delivery.widthPx), mostly),
    wider.effect(figure(stabilise.cropPercent), longerTake(stabilise, forRepeat.overscanPercent)),
  );
}

/** What the longer take asks for, reserve and rounding up included as in the frame for a repeat, where it asks for more than the repeat does. */
function longerTake(
  { longerTake: takes, takeS: wantedS, recommended }: StabiliseSection,
  repeatPercent: number,
): string {
  const take = takes.find(({ takeS }) => takeS === wantedS);
  const upper = take?.upper95Percent ?? null;
  if (take === undefined || upper === null || upper >= MOST_TAKE_PERCENT) return '';
  const widerPercent = 100 / (1 - (upper + recommended.reservePercent) / 100) - 100;
  if (widerPercent <= repeatPercent || figure(widerPercent) === figure(repeatPercent)) return '';
  return framingAdviceTexts.frameWider.longerTake(figure(take.takeS), percentUp(widerPercent), take.atLeast);
}
