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

/** The file has too few bits. */
export const compressionDoubtTexts = {
  /** @param perPx steps to a pixel: 2 or 4 */
  copied: (perPx: number): string =>
    `The file is coded with too few bits: much of the picture is copied from the frame before in steps of a ${perPx === 2 ? 'half' : 'quarter'} pixel, so finer shake is not in it. In trials such files made small shifts read up to several times too large and angles up to a third too small, beyond their stated ranges. Measure the camera original, not an upload or a proxy, and record at several times the bit rate, best all-intra.`,
} as const;
