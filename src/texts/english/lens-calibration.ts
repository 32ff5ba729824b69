/** What could be better about the calibration of a lens. Figures come printed, without their unit. */

/** Views of the board, and how well a lens fits them. */
export const lensCalibrationTexts = {
  /** @param corners that the board hardly reached */
  coveragePoor: (percent: number, corners: readonly string[]): string =>
    `The board reached ${percent} % of the picture${corners.length > 0 ? ` and hardly the ${corners.join(', ')} corner${corners.length > 1 ? 's' : ''}` : ''}; distortion is strongest in the corners: take the board there too, it may leave the picture in part.`,
  fewViews: (count: number): string =>
    `Only ${count} views that differ were found; 15 to 25 give a surer lens.`,
  littleTilt: (degrees: number): string =>
    `The board was tilted by ${degrees} degrees at most; tilts of 20 to 45 degrees to all sides pin the focal length down.`,
  roughFit: (px: string): string =>
    `Crossings lie ${px} px RMS from the fit; check that the board is flat, that zoom and focus stayed as they were, that it is not blurred, and hold it still while it is read row by row.`,
  centreOff: (percent: string): string =>
    `The optical centre seems to lie ${percent} % of the width away from the middle (a picture cropped off centre, a stabilised or shifted lens, or views that do not tell); the measurement takes the middle.`,
} as const;
