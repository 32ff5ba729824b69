/** Words of the summaries that are printed on a terminal; the sentences that page and terminal share stand with their topic. */

/** Words of the terminal summaries. */
export const terminalTexts = {
  report: (page: string): string => `Report: ${page}`,
  inDoubt: (sentences: string): string => `In doubt: ${sentences}`,
  why: (reason: string): string => `Why:  ${reason}`,
  mind: (reason: string): string => `Mind: ${reason}`,
  clip: (file: string, widthPx: number, heightPx: number, fps: string, measuredS: string): string =>
    `${file}  ${widthPx}x${heightPx}, ${fps} fps, ${measuredS} s measured`,
  motionLog: 'Motion log:',
  warnings: (count: number): string => `Warnings: ${count}`,
  atSeconds: (seconds: string): string => ` (at ${seconds} s)`,
  takenAs: (input: string, value: string): string => `${input}: ${value}`,
  taken: (inputs: readonly string[]): string =>
    `Taken, not given: ${inputs.join('; ')} (the report says what each matters).`,
  /** A source of shake: its name, its frequency unless the name holds it, where it shows, what it shifts, how sure its cause is. */
  source: (
    name: string,
    frequency: string | null,
    axes: string,
    shiftPx: string,
    sureness: string | null,
  ): string =>
    `${name} (${frequency === null ? '' : `${frequency} `}on ${axes}; ${shiftPx} px RMS of the delivery${sureness === null ? '' : `; ${sureness} sure`})`,
  moreSources: (count: number): string => `${count} more in the report`,
  shakes: 'Shakes:',
  crop: (cost: string, way: string): string => `Crop: ${cost}; ${way}.`,
  cropCost: (percent: string, px: string, ofPx: number): string =>
    `${percent} % of the width, ${px} px of ${ofPx}`,
  notCoverable: 'more than half of the picture',
  takeOfOtherWay: 'No take is foretold for this way. Where the move is kept: ',
  stays: (left: string): string => `Stays: ${left}`,
  leftUnknown: 'not known, for translation could not be told from rotation.',
  left: (px: string, causes: readonly string[], atMost: boolean): string =>
    `${atMost ? 'at most ' : ''}${px} px RMS at delivery size (${causes.join(', ')}).`,
  leftByTranslation: (px: string): string => `translation ${px}`,
  leftByParallax: (px: string): string => `of it parallax ${px}`,
  leftByPath: (px: string): string => `path ${px}`,
  allAngular: (pan: string, tilt: string): string =>
    `If all of it is angular: pan below ${pan} deg, tilt below ${tilt} deg.`,
  allTranslation: (lateral: string, vertical: string, unit: string): string =>
    `If all of it is translation: lateral below ${lateral} ${unit}, vertical below ${vertical} ${unit}.`,
  toTellApart: (change: string): string => `To tell them apart: ${change}`,
  heads: (bandHz: string): readonly string[] => [
    'Axis',
    `Shake RMS, ${bandHz} Hz`,
    '95 % range',
    'Peak to peak',
    'Strongest',
  ],
  notReliable: ' (not reliable)',
  noScale: (unit: string): string => `(translation in ${unit}: give the travel or the speed to get mm)`,
} as const;
