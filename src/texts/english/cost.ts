/** Words on what stabilising costs: the crop and how to frame for it, the trade-off with smoothing, the ways, takes of other lengths. */

/** What stabilising costs. */
export const costTexts = {
  heading: 'What stabilising costs',

  // The first sentence, in the words of the set.
  notCoverable:
    'More than half of the picture would have to go: this pass is not for stabilising. What follows is what the other ways would cost.',
  cropCosts: (percent: string, limit: string, ofPx: string, leftPx: string): string =>
    `The crop costs ${percent} % of the width (limit ${limit} %): of ${ofPx} px ${leftPx} are left`,
  framedAs: (tighterMm: string, usedMm: string): string =>
    `, framed as by a ${tighterMm} mm lens in place of the ${usedMm} mm lens`,
  framedAsTimes: (times: string): string => `, framed as by a lens ${times} times as long`,

  // Facts.
  frameWider: 'On the day, frame wider by',
  frameWiderBy: (percent: string, px: string, ofPx: string, withLens: string): string =>
    `${percent} % (${px} px of ${ofPx})${withLens}: room for the crop and for a repeat of the move`,
  noWiderLens: 'no wider lens helps: more than half of the picture would have to go',
  pictureLeft: 'Picture left of the clip',
  pixelsLeft: (left: string, of: string): string => `${left} px of ${of}`,
  pixelsHold: 'enough for the delivery',
  scaledUp: (times: string): string => `scaled up ${times} times for the delivery`,
  way: 'What is done',
  rowByRow: '; frames are turned row by row',
  smoothingToSet: 'Smoothing to set',
  smoothing: (seconds: string, why: string): string => `${seconds} s. ${why}`,
  /** Why another smoothing than that of the report. */
  smoothingWhy: {
    sure: (usedS: string): string =>
      `It keeps the limits for sure, range and repeat counted in; the ${usedS} s of this report do not.`,
    reserve: (usedS: string, usedPercent: string, limitPercent: string): string =>
      `This take then keeps the limits with the reserve for resampling and measuring error; with it ${usedS} s need ${usedPercent} % of crop, and ${limitPercent} % is accepted. A repeat of the move is not sure to keep them.`,
    notSure: (usedS: string): string =>
      `It keeps the limits as measured, not for sure; the ${usedS} s of this report do not.`,
  },
  noSmoothing: (nearestS: string, cropPercent: string, leftPx: string | null): string =>
    `none up to that of this report keeps the limits; ${nearestS} s comes nearest (crop ${cropPercent} %${leftPx === null ? '' : `, ${leftPx} px of shake left`})`,
  worstFrame: 'The frame that decides',
  atTime: (seconds: string): string => `at ${seconds} s`,
  moreFigures: 'More figures of the crop',
  thisTakeOnly: 'Frame wider for this very take',
  thisTakeBy: (percent: string, reserve: string): string =>
    `${percent} %, of it ${reserve} % in reserve for resampling and measuring error; a repeat would need more`,
  cropPx: 'Crop at delivery size',
  pxOf: (px: string, of: string): string => `${px} px of ${of}, left and right together`,
  offCentre: 'With a window off the middle',
  nothingToGain: 'nothing to gain',
  offCentreCosts: (percent: string, across: string, down: string): string =>
    `${percent} %: ${across}, ${down}`,
  offset: (px: string, direction: 'right' | 'left' | 'down' | 'up'): string => `${px} px ${direction}`,
  moving: 'With a moving crop',
  onAverage: (percent: string): string => `${percent} % on average`,

  // The trade-off.
  tradeOffTitle: 'Crop and shake left',
  tradeOffOver: 'against smoothing, keeping the move',
  tradeOffLabel: (chosen: string): string => `Trade-off of crop and shake left against smoothing. ${chosen}`,
  chosenLabel: (smoothing: string, percent: string): string =>
    `At ${smoothing} s of smoothing the crop is ${percent} % of the width.`,
  allFit: (from: string, to: string): string =>
    `Any smoothing from ${from} to ${to} s keeps this take within`,
  someFit: (stretches: readonly string[]): string =>
    `Smoothing ${stretches.join(' and ')} keeps this take within`,
  stretch: (from: string, to: string): string => `from ${from} to ${to} s`,
  bothLimits: 'both limits',
  cropLimitAlone: 'the crop limit; how much shake stays is not known',
  noneFits: {
    crop: 'Every smoothing costs more crop than is accepted.',
    left: 'No smoothing leaves little enough shake: what stays is not for smoothing to remove.',
    both: 'No smoothing keeps both limits: where the crop fits, too much shake stays.',
  },
  /** Words behind the limits: what is left of it with the ranges that decide. */
  alsoSure: ', also with its range and a repeat of the move counted in',
  sureOnly: (stretches: readonly string[]): string =>
    `; with its range and a repeat of the move counted in, only ${stretches.join(' and ')}`,
  noneSure: '; with its range and a repeat of the move counted in, none is sure to',
  chosenHere: (smoothing: string): string => `; this report uses ${smoothing} s.`,
  sentenceEnd: '.',
  tradeOffLegend:
    'Less smoothing follows more of the shake: it costs less and leaves more. Dashed: the limits. Shaded: the smoothing that keeps them; darker: for sure, with the bands.',
  tradeOffBands: 'Bands: 95 %, of the crop up to what a repeat of the move may need.',
  tradeOffDiamond: 'Diamond: this report.',
  tradeOffFigures: 'crop and shake left by smoothing',
  smoothingHead: 'Smoothing, s',
  cropHead: 'Crop, %',
  leftHead: 'Shake left, px RMS',

  // In the chart.
  cropAxis: 'crop, % of width',
  leftAxis: 'shake left, px RMS at delivery size',
  smoothingAxis: 'smoothing, s',
  withinLimits: { sure: 'within the limits for sure', notSure: 'within the limits, not for sure' },
  withinCropLimit: { sure: 'within the crop limit for sure', notSure: 'within the crop limit, not for sure' },
  nothingWithin: 'at no smoothing are both limits kept',
  limit: (value: string, unit: string, above: boolean): string =>
    `limit ${value} ${unit}${above ? ' (above)' : ''}`,
  chosenMark: (percent: string, smoothing: string): string => `${percent} % at ${smoothing} s`,
  chosenLeft: (px: string): string => `${px} px`,
  readPlace: (smoothing: string): string => `${smoothing} s of smoothing`,
  readCrop: (percent: string, range: string): string => `Crop ${percent} %${range}`,
  readLeft: (px: string, range: string): string => `Shake left ${px} px${range}`,
  readRange: (low: string, high: string): string => ` (${low} to ${high})`,

  // Ways.
  waysCaption: (crop: string, px: string): string =>
    `Ways to stabilise this clip (limits: crop ${crop} %, ${px} px left)`,
  waysHead: { way: 'Way', crop: 'Crop', left: 'Shake left, RMS', remark: 'Remark' },
  wayOfReport: ' (this report)',
  notPossible: 'not possible',
  overHalf: 'more than half of the picture would have to go',
} as const;
