/** Words around figures that stand everywhere: what is missing, ranges, bounds. */

/** Words around figures. */
export const figureTexts = {
  notGiven: 'not given',
  notObservable: 'not observable',
  underNoise: 'under the noise floor',
  below: (bound: string): string => `below ${bound}`,
  about: (value: string): string => `about ${value}`,
  range: (low: string, high: string): string => `${low} to ${high}`,
} as const;
