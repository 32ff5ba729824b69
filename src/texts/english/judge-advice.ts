/** Advice on what is done in post and how to frame: what to do, and what it brings. Figures come printed, without their unit. */

const MOSTLY_ANGULAR = 'The shake is mostly angular: stabilise in post. ';

/** How much wider a picture is framed, with the lens that does it where it is worth naming. */
export interface WiderFrame {
  readonly percent: string;
  readonly px: string;
  readonly ofPx: number;
  /** The longest lens; null where the next one in the case is too far off. */
  readonly lensMm: string | null;
}

const withLens = (lensMm: string | null): string =>
  lensMm === null ? '' : `, with a lens of ${lensMm} mm or shorter`;

/** Steps in post. */
export const postAdviceTexts = {
  nothingNeeded: {
    text: 'Nothing needed.',
    effect: 'The shake is too small to be seen at the delivery size.',
  },
  keepTheMove: {
    text: 'Keep the move instead of holding still (--stabilise keep-move).',
    effect: (crop: string): string =>
      `Costs ${crop} % of the width: the rest pays for slow drift of the camera.`,
  },
  otherSmoothing: {
    text: (thenS: string, nowS: string): string => `Smooth over ${thenS} s instead of ${nowS} s.`,
    /** @param leftPx null where it is not known */
    effect: (crop: string, leftPx: string | null): string =>
      `Costs ${crop} % of the width${leftPx === null ? '' : ` and leaves ${leftPx} px of shake`}.`,
  },
  smoothestPath: {
    /** @param remark on what becomes of the move; null for none */
    text: (allowed: string, remark: string | null = null): string =>
      `Take the smoothest path within ${allowed} % of crop instead (--stabilise smoothest)${remark === null ? '' : `: ${remark}`}.`,
    effect: (leftPx: string, remark: string | null): string =>
      `Leaves ${leftPx} px of shake; ${remark ?? 'the move changes a little'}.`,
  },
  movingCrop: {
    text: 'Let the crop breathe with the shake instead of holding one size (figures: its mean, for this take; a repeat may need more).',
    effect: (crop: string): string => `Costs ${crop} % of the width on average.`,
  },
  smoothMore: {
    text: 'Smooth more: most of what stays is angular shake that the path still follows.',
    effect: 'A path that follows less of the shake leaves less of it and costs more crop.',
  },
} as const;

/** Steps on the frame and on the limit. */
export const framingAdviceTexts = {
  allowCrop: {
    /** @param frame null where a repeat of the move fits into no frame */
    text: (allowed: string, frame: WiderFrame | null): string =>
      `Allow ${allowed} % of crop${
        frame === null
          ? ''
          : ` and frame ${frame.percent} % wider for it and a repeat of the move (${frame.px} px of ${frame.ofPx})${withLens(frame.lensMm)}`
      }.`,
    effect: (crop: string, allowed: string): string =>
      `Stabilising costs ${crop} %; the limit of ${allowed} % is the crew's own.`,
  },
  allowThis: {
    text: (crop: string): string => `Allow ${crop} % of crop, and frame wider for it.`,
    effect: (allowed: string): string => `The limit of ${allowed} % is the crew's own.`,
  },
  allowMore: {
    text: 'Allow more crop: most of what stays is angular shake that the path follows for want of room.',
    effect: 'A path that follows less of the shake leaves less of it.',
  },
  /** Words behind a frame, with the comma before them. */
  withLens,
  frameWider: {
    text: ({ percent, px, ofPx, lensMm }: WiderFrame, mostlyAngular: boolean): string =>
      `${mostlyAngular ? MOSTLY_ANGULAR : ''}Frame ${percent} % wider than the final picture (${px} px of ${ofPx})${withLens(lensMm)}.`,
    /** @param longerTake a sentence of `longerTake`, or nothing */
    effect: (crop: string, longerTake: string): string =>
      `Pays for the crop of ${crop} % and for a repeat of the move, reserve included.${longerTake === '' ? '' : ` ${longerTake}`}`,
    longerTake: (takeS: string, percent: string, atLeast: boolean): string =>
      `For a ${takeS} s take on a floor like this frame ${atLeast ? 'at least ' : ''}${percent} % wider, reserve included.`,
  },
  noRoom: {
    text: (mostlyAngular: boolean): string =>
      `${mostlyAngular ? MOSTLY_ANGULAR : ''}No wider lens leaves room for a repeat of this pass.`,
    effect: 'More than half of the picture would have to go.',
  },
} as const;
