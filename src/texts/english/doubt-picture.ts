/** Doubts that the pictures themselves raise: an exposure that changed, coding that left fine shake out. Times come printed with their unit. */

/** How the exposure changed. */
export interface ExposureChangeWords {
  /** Equal where it changed from one frame to the next. */
  readonly from: string;
  readonly to: string;
  /** Without its sign. */
  readonly stops: string;
  readonly isBrighter: boolean;
  /** Changes up and down in all. */
  readonly count: number;
}

/** The light changed on what stayed in the picture. */
export const exposureDoubtTexts = {
  change: ({ from, to, stops, isBrighter, count }: ExposureChangeWords): string =>
    `The exposure changed during the pass: the same places came out about ${stops} stops ${isBrighter ? 'brighter' : 'darker'} ${
      from === to ? `from ${to} on` : `between ${from} and ${to}`
    }${count > 1 ? ` (the largest of ${count} changes)` : ''}, by auto exposure, the iris or the light itself. Points are followed with the change evened out; but if the shutter time changed with it, so did the blur, and what is cut off at white or black is lost. Lock iris, ISO and shutter by hand and roll again in steady light.`,
} as const;
