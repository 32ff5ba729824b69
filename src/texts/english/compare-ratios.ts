/** What ratios of shake say in tables, charts and lines: clear or not, how far the result reaches, what would decide. */
import { capital, listed } from './words.js';

/** What the places are called that the setups are compared over, or the setups where places are compared. */
type Across = 'lane' | 'setup';

/** Which way round a ratio is, in the same words wherever one stands. */
const over = (a: string, b: string): string => `${a} over ${b}`;

/** Words of ratios. */
export const comparedRatioTexts = {
  smoother: (name: string): string => `${name} smoother`,
  sameWithin10: 'the same within 10 %',
  notCompared: 'not compared',
  noClearDifference: 'no clear difference',
  leaning: (name: string, inHundred: number): string => `leaning to ${name} (${inHundred} in 100)`,
  leaningAmongMany: (leaning: string): string => `${leaning}, not sure among so many`,
  unclearLeaning: (leaning: string): string => `no clear difference, ${leaning}`,
  belowNoise: 'below noise',

  chart: {
    leftSmoother: '← smoother',
    rightSmoother: 'smoother →',
    /** Under the name of a side that lies under its noise and is smoother by its bound. */
    smoother: 'smoother',
    axis: (a: string, b: string): string => `shake RMS, ${over(a, b)}`,
    /** @param rows each of `row` */
    label: (what: string, a: string, b: string, rows: readonly string[]): string =>
      `${what} of ${over(a, b)}: ${rows.join(', ')}`,
    row: (name: string, value: string, range: string): string =>
      `${name} ${value}${range === '' ? '' : ` (${range})`}`,
    notComparedRow: (name: string): string => `${name} not compared`,
    legend:
      'Log scale. Below 1 the left one is smoother. Bars: 95 % ranges. Solid with a triangle: clear. Dashed with a circle: not clear. Square: the same within 10 %. An arrow at an end: the range goes on.',
    leastLegend: 'Grey about 1: differences too small for these passes to tell.',
    read: (value: string, range: string, says: string): string =>
      `${value}${range === '' ? '' : ` (95 % range ${range})`}, ${says}`,
    clear: (smoother: string): string => `clear: ${smoother} smoother`,
  },

  /** What a chart shows. */
  shake: 'Shake',
  shakeInWavelengths: 'Shake in common wavelengths',
  byBand: (axis: string): string => `${axis} by band`,

  table: (a: string, b: string): string =>
    `Shake RMS, mean over the lanes, noise taken off: ${a} against ${b}`,
  heads: (a: string, b: string): readonly string[] => ['Axis', a, b, `${over(a, b)} (95 % range)`, 'Says'],
  /** The same for lines of text, whose columns must stay narrow; `lineRatio` says which way round the ratio is. */
  lineHeads: (a: string, b: string): readonly string[] => ['Axis', a, b, 'Ratio (95 % range)', 'Says'],
  lineRatio: (a: string, b: string): string => `Ratio: ${over(a, b)}.`,
  chances: (a: string, b: string): string => `chances and degrees of freedom, ${a} against ${b}`,
  chanceHeads: [
    'Axis',
    'Chance that the first is smoother',
    'p',
    'p, corrected for all axes',
    'Degrees',
    'Passes alike',
  ],

  wavelengths: 'The setup alone, by wavelength of the floor',
  waveBand: (fromMm: string, toMm: string): string => `${fromMm} to ${toMm} mm`,
  wavelengthsLegend: 'The speeds differ, so the chart at the top shows setup and speed together.',
  wavesThatCount: (band: string): string => `Here only waves of ${band} count, which both could meet.`,

  byFrequency: 'By frequency',
  bandsClear: (bands: readonly string[]): string => `Clear in ${listed(bands)}.`,
  bandsNone: 'No clear difference in any band.',
  bandName: (axis: string, band: string): string => `${axis} ${band}`,
  bandsLegend: (count: number, notCompared: readonly string[]): string =>
    `${count} bands are looked at together, so some differ by chance: only what stands up to the correction for that (Holm) is solid.${
      notCompared.length === 0 ? '' : ` Not compared in any band: ${listed(notCompared)}.`
    }`,
  bandsTable: (a: string, b: string): string => `by frequency band, ${a} against ${b}`,
  bandHeads: (a: string, b: string): readonly string[] => [
    'Band',
    a,
    b,
    `${over(a, b)} (95 % range)`,
    'p, corrected',
  ],
  bandRow: (axis: string, fromHz: string, toHz: string): string => `${axis}, ${fromHz} to ${toHz} Hz`,

  passesOf: (count: number, name: string): string => `${count} ${count === 1 ? 'pass' : 'passes'} of ${name}`,
  bothCounts: (a: string, b: string): string => `${a}, ${b}`,
  laidOut: (where: string, counts: string, reach: string): string => `${where}: ${counts}. ${reach}`,
  rolled: (counts: string, reach: string): string => `${counts}. ${reach}`,
  /** How the passes were laid out. */
  design: {
    oneLane: (lanes: readonly string[]): string => `Both on one lane (${lanes.join(', ')})`,
    pairedLanes: (lanes: readonly string[]): string =>
      `Both on each of ${lanes.length} lanes (${lanes.join(', ')})`,
    ownLanes: (lanes: readonly string[]): string => `Each on lanes of its own (${lanes.join(', ')})`,
  },
  reach: {
    thisLane: 'The result holds for this lane.',
    floorsLikeThese: 'The result holds for floors like these.',
    theseStretches: 'The result holds for the stretches that were rolled.',
    nothing: 'Floor and setup cannot be told apart.',
  },
  noSetupOnBoth: (place: string, counts: string): string =>
    `No setup was rolled on both ${place}s: ${counts}. ${capital(place)} and setup cannot be told apart.`,

  rollOneOnBoth: (place: string): string =>
    `Roll one setup on both ${place}s: more passes of this kind would not decide it.`,
  sooner: 'Sooner: run both on one lane, in the order A B B A.',
  neededFor: (axes: readonly string[], answer: string): string => `${capital(listed(axes))}: ${answer}`,
  noneWouldDecide: 'more passes of this kind would not decide it.',
  passesWouldShow: (count: number): string =>
    `${count} ${count === 1 ? 'pass' : 'passes'} of each would show a difference of 20 %.`,
  lanesWouldShow: (count: number, across: Across, ownLanes: boolean): string =>
    `${count} ${across}${count === 1 ? '' : 's'} ${
      ownLanes ? 'for each' : across === 'lane' ? 'with both' : 'on both'
    } would show a difference of 20 %.`,
} as const;
