/** Words on what would be with another lens, another speed or another delivery: the tables of a report, and the page of an answer. */

/** What if. */
export const whatIfTexts = {
  // The section of a report.
  heading: 'Another lens, another speed',
  longestLens: (lens: string, why: string): string => `${lens} ${why}`,
  /** @param sure false where the upper end of the range, or a repeat, may lie over a limit */
  lensesUpTo: (mm: string, sure: boolean): string =>
    `Lenses up to ${mm} mm ${sure ? 'keep' : 'may keep'} this take within the limits;`,
  lensesUpToTimes: (times: string, sure: boolean): string =>
    `Lenses up to ${times} times the focal length used ${sure ? 'keep' : 'may keep'} this take within the limits;`,
  longerOnes: {
    crop: 'a longer one needs too much crop.',
    residual: 'a longer one leaves too much shake.',
    none: 'longer ones were not looked at.',
  },
  /** @param mm the longest of the table that passes, a repeat of the move taken in; null where none does */
  lensesPass: (mm: string | null): string =>
    mm === null
      ? ' None of the lenses below passes with room for a repeat of the move.'
      : ` With room for a repeat of the move the ${mm} mm lens is the longest below that passes.`,
  noLens: (crop: string, px: string): string =>
    `No lens keeps the limits: a tenth of the focal length used still needs more than ${crop} % or leaves more than ${px} px.`,
  lensTable: 'The same shake on another lens',
  speedTable: 'The same stretch at another speed',
  lensHead: 'Lens',
  speedHead: 'Speed',
  lensTimes: (times: string): string => `${times} x`,
  speedTimes: (times: string): string => `${times} x`,
  speed: (mps: string): string => `${mps} m/s`,
  used: 'used',
  speedRefused: {
    tooShort: 'Too quick: the move can no longer be told from the shake.',
    tooSlow: 'Too slow: the pass holds nothing at frequencies that high.',
  },
  speedLegend: (own: string, readers: 'file' | 'page'): string =>
    `Where two figures stand, one is for all of the shake from the floor, the other for all of it from the machine, and the range takes in both. ${readers === 'page' ? 'The sliders of this page tell floor and machines apart where they can, and give' : 'The command below tells floor and machines apart where it can, and gives'} one figure with its range. ${own} Slower, ripples too short for the test pass are missing; faster, the stretch is over sooner.`,
  extremes: 'crop at other speeds, by where the shake comes from',
  extremesHead: {
    floor: 'Crop, all from the floor',
    machine: 'Crop, all from the machine',
    floorLeft: 'Shake left',
    machineLeft: 'Shake left',
  },
  askMore: 'More answers without the clip:',
  askCommand: 'trundle whatif <folder of this report> --focal 50mm',
  papers: 'Figures by which papers compare stabilised clips',
  papersCaption: 'Cropping, distortion, stability',
  papersHead: { clip: 'Clip', cropping: 'Cropping (area)', distortion: 'Distortion', stability: 'Stability' },
  asShot: 'As shot',
  stabilised: 'Stabilised',
  papersLegend:
    "After Liu, Yuan, Tan and Sun 2013 (definitions from memory). Cropping: side of the picture kept, linear, mean over the frames (area beside it). Distortion: ratio of the eigenvalues of the affine part, least over the frames. Stability: share of the path's energy in the 2nd to 6th lowest frequencies, the lesser of shift and turn.",

  // Charts of crop over one thing.
  crop: 'Crop',
  overLens: 'over the focal length',
  overSpeed: 'over the speed',
  chartLabel: (over: string, limit: string): string => `Crop ${over}; the limit is ${limit} %`,
  lensAxis: 'focal length, mm',
  lensTimesAxis: 'focal length over the one used',
  speedAxis: 'speed, m/s',
  aLens: (mm: string): string => `${mm} mm lens`,
  lensTimesUsed: (times: string): string => `${times} times the lens used`,
  readCrop: (percent: string, range: string, grade: string): string => `Crop ${percent} %${range}: ${grade}`,
  gradeLegend: 'The shape is the verdict on crop and shake left together.',
  rangeLegend: 'Dashed: the limit. Shaded: the range that decides (95 %, up to what a repeat may need).',
  chartLegend:
    'The verdict is on crop and shake left together. Dashed: the limit of the delivery. Shaded: the range that decides (95 %). Diamonds: the pass as it was shot, and what was asked.',
  offCurve: (others: readonly string[]): string =>
    ` A diamond off the curve is the pass as shot (other ${others.join(', other ')}).`,
  markShot: 'as shot',
  markAsked: 'asked',

  // Tables of cases.
  head: { crop: 'Crop', left: 'Shake left, RMS', grade: 'Verdict' },
  overHalf: 'more than half',
  percent: (value: string): string => `${value} %`,
  leftPx: (value: string, atMost: boolean): string => `${atMost ? 'at most ' : ''}${value} px`,
  notKnown: 'not known',
  range: (low: string, high: string): string => `${low} to ${high}`,
  inLine: (text: string, range: string): string => `${text} (${range})`,
  asMeasured: 'as measured',
  asInPass: 'as in the pass',
  asked: 'asked',
  titles: {
    focal: 'Other lenses',
    speed: 'Other speeds',
    deliveries: 'Other deliveries',
    smoothing: 'Other smoothings',
    wheelbase: 'Other wheelbases',
  },
  heads: {
    focal: 'Lens',
    speed: 'Speed',
    deliveries: 'Delivery',
    smoothing: 'Smoothing',
    wheelbase: 'Wheelbase',
  },
  seconds: (value: string): string => `${value} s`,
  millimetres: (value: string): string => `${value} mm`,
  delivery: (name: string | null, widthPx: number, heightPx: number, limits: string): string =>
    `${name === null ? '' : `${name}, `}${widthPx} x ${heightPx} (${limits})`,
  limits: (crop: string, px: string): string => `${crop} %, ${px} px`,

  // The two states beside each other.
  measuredHead: 'As measured',
  thenHead: 'Then',
  rows: {
    grade: 'Verdict',
    crop: 'Crop',
    cropPx: 'Crop, px',
    zoom: 'Zoom',
    left: 'Shake left, RMS',
    blur: 'Blur that pulses',
    longestLens: 'Longest lens',
    framing: 'Frame wider by',
    way: 'Way',
    limits: 'Limits',
  },
  pxOf: (px: string, of: number): string => `${px} of ${of}`,
  wayFor: (way: string, seconds: string): string => `${way}, ${seconds} s`,
  noLensKeeps: 'none',
  timesUsed: (times: string): string => `${times} x the one used`,
  noLimitUpTo: (lens: string): string => `no limit up to ${lens}`,
  blurPx: (px: string): string => `${px} px`,
  noLensWideEnough: 'no lens is wide enough',
  framing: (percent: string, px: string): string => `${percent} %, ${px} px`,
  takeOf: (lengths: readonly string[]): string => `Take of ${lengths.join(', then ')}`,
  whereMoveIsKept: (words: string): string => `${words}, where the move is kept`,
  notUsable: 'not usable',
  takeAbout: (percent: string): string => `about ${percent} %`,
  takeNoBound: (typical: string): string => `${typical}, no bound`,
  takeOverHalf: (typical: string): string => `${typical}, may need over half`,
  takeAtLeast: (typical: string, percent: string): string => `${typical}, allow at least ${percent} %`,
  takeBelow: (typical: string, percent: string): string => `${typical}, 19 in 20 below ${percent} %`,

  // The page of an answer.
  pageKind: 'Trundle what if',
  pageTitle: (word: string, clip: string): string => `${word}: what if, ${clip}`,
  noSheet: 'no sheet of the pass',
  notForetold: 'Not foretold',
  asItWas: (what: string, to: string): string => `${what} ${to}, as it was`,
  insteadOf: (what: string, to: string, from: string): string => `${what} ${to} instead of ${from}`,
  askedHeading: 'Asked',
  nothingAsked: 'Nothing asked',
  nothingAskedText: 'The pass as it was measured, and what else it could be used for.',
  oneState: 'The pass as it is',
  twoStates: 'The pass as it is, and as asked for',
  chartsHeading: 'Crop over lens and speed',
  tablesHeading: 'One thing at a time',
  tablesIntro: (asked: boolean): string =>
    `In each table one thing differs${asked ? ' from what was asked' : ''}; all else stays.`,
  rangesHold:
    'Ranges hold what the prediction leaves open, the measuring error and, for crops, a repeat of the move.',
  assumedHeading: 'Taken for granted',

  // The answer on a terminal.
  asMeasuredTitle: (clip: string): string => `${clip}, as it was measured`,
  askedTitle: (clip: string, asked: readonly string[]): string => `${clip}: ${asked.join('; ')}`,
  assumedLine: 'Taken for granted:',
} as const;
