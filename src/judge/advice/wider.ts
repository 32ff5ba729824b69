/** How much wider to frame on the day, per cent of the final picture and millimetres: room for the crop and a repeat of the move. */
import { figure, type StabiliseSection } from '../../run/index.js';
import { told, type AdviceInput, type Step } from './step.js';

/** Below this the next lens in the case is too far off to be worth naming. */
const LENS_WORTH_PERCENT = 1;
/** From this angular share on the shake is called mostly angular. */
const MOSTLY = 0.7;
/** A longer take that needs more than this is not told. */
const MOST_TAKE_PERCENT = 50;

/** ", with 27.6 mm or shorter", where the lens is known and the difference worth a change of lens; else nothing. */
export function lensToFrameWith({
  focalLengthMm,
  overscanPercent,
}: NonNullable<StabiliseSection['recommended']['forRepeat']>): string {
  return focalLengthMm === null || overscanPercent < LENS_WORTH_PERCENT
    ? ''
    : `, with ${figure(focalLengthMm)} mm or shorter`;
}

/** The figure for the day where the clip is to be stabilised. */
export function frameWider({ motion, stabilise, delivery }: AdviceInput): Step {
  const { forRepeat } = stabilise.recommended;
  const share = motion.angularShare.value;
  const known = motion.separation.unsplit === null;
  const mostly =
    known && share !== null && share >= MOSTLY ? 'The shake is mostly angular: stabilise in post. ' : '';
  if (forRepeat === null)
    return told(
      'frame-wider',
      `${mostly}No wider lens leaves room for a repeat of this pass.`,
      'More than half of the picture would have to go.',
    );
  const { overscanPercent, overscanPx } = forRepeat;
  return told(
    'frame-wider',
    `${mostly}Frame ${figure(overscanPercent)} % wider than the final picture (${figure(overscanPx)} px of ${delivery.widthPx})${lensToFrameWith(forRepeat)}.`,
    `Pays for the crop of ${figure(stabilise.cropPercent)} % and for a repeat of the move, reserve included.${longerTake(stabilise, overscanPercent)}`,
  );
}

/** What the longer take asks for, where it asks for more than the repeat does. */
function longerTake({ longerTake: takes, takeS: wantedS }: StabiliseSection, repeatPercent: number): string {
  const take = takes.find(({ takeS }) => takeS === wantedS);
  const upper = take?.upper95Percent ?? null;
  if (take === undefined || upper === null || upper >= MOST_TAKE_PERCENT) return '';
  const widerPercent = 100 / (1 - upper / 100) - 100;
  if (widerPercent <= repeatPercent || figure(widerPercent) === figure(repeatPercent)) return '';
  return ` For a ${figure(take.takeS)} s take on a floor like this frame ${take.atLeast ? 'at least ' : ''}${figure(widerPercent)} % wider.`;
}
