/** Words of the lane plan: the drawing, its table and its lines. Figures come printed with their unit. */

/** Words of the lanes. */
export const lanePlanTexts = {
  heading: 'The lanes',
  floor: (floor: string): string => `Floor: ${floor}.`,
  setup: (setup: string): string => `Setup: ${setup}.`,
  legend:
    'Height and shade: shake of the delivered picture before stabilising. Ticks: joints, the highest with their height (mean of both wheel lines). Hatched: keep off.',
  beyondEnd: 'Dashed: only the front wheels rolled there.',
  table: 'Lanes, the smoothest first',
  heads: ['Lane', 'Shake, px RMS', 'Length', 'Joints', 'Keep off', 'There, over the usual'],
  lengthUnknown: 'not known',
  keepNothingOff: 'nothing',
  timesUsual: (times: string): string => `×${times}`,
  metres: (m: string): string => `${m} m`,
  none: '–',

  /** A stretch in metres. */
  stretch: (fromM: string, toM: string): string => `${fromM} to ${toM} m`,
  stretchOfPass: (fromPercent: number, toPercent: number): string =>
    `${fromPercent} to ${toPercent} % of the pass`,
  placeOfPass: (percent: number): string => `${percent} % of the pass`,
  keepOff: (stretch: string): string => `keep off ${stretch}`,

  best: (name: string): string => `best: ${name}`,
  shake: (px: string, low: string, high: string): string => `${px} px RMS (${low} to ${high})`,
  passes: (count: number): string => `${count} ${count === 1 ? 'pass' : 'passes'}`,
  shakeOfPasses: (shake: string, passes: string): string => `${shake}, ${passes}`,
  ways: { out: 'out →', back: '← back' },
  jointHeight: (mm: string): string => `${mm} mm`,
  start: 'start: rear axle here',
  along: (unit: string): string => `along the lane, ${unit}`,
  alongPass: 'share of the pass',
  length: (value: string, unit: string): string => `${value} ${unit}`,
  shakeOver: (window: string): string => `shake over ${window}, px RMS`,

  /** @param each the lanes, each of `laneTold` */
  planLabel: (best: string | null, each: readonly string[]): string =>
    `Plan of ${each.length} lanes${best === null ? '' : `, best ${best}`}: ${each.join('; ')}`,
  laneTold: (name: string, px: string, off: readonly string[]): string =>
    [`${name} ${px} px RMS`, ...off].join(', '),

  /** Lines on a terminal. */
  linesTitle: (about: string): string => `Lanes${about === '' ? '' : ` of ${about}`}, the smoothest first:`,
  line: (rank: number, name: string, best: boolean, parts: readonly string[]): string =>
    `  ${rank}. ${name}${best ? ' (best)' : ''}: ${parts.join('; ')}`,
  passesAndWays: (passes: string, ways: readonly string[]): string =>
    `${passes}${ways.length === 0 ? '' : ` ${ways.join(' and ')}`}`,
  noJoints: 'no joints',
  joints: (count: number, mm: string, place: string): string =>
    `${count} ${count === 1 ? 'joint' : 'joints'}, the highest ${mm} mm (mean of both lines) at ${place}`,
} as const;
