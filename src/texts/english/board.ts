/** What is printed on the calibration board. */

/** The two lines under the squares. */
export const boardTexts = {
  ruler: (mm: number): string =>
    `This line is ${mm} mm long: print at 100 %. Glue the sheet to something flat.`,
  squares: (mm: number): string =>
    `Squares of ${mm} mm. Measure one and give it with --square: it sets distances only, focal length and distortion do not depend on it.`,
} as const;
