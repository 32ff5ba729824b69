/** The contact picture, a report in one picture to send by message: its labels, and how its figures are told in a few words. */

/** Words of the contact picture. */
export const contactTexts = {
  kind: 'Trundle test pass',
  lens: (focalMm: string): string => `${focalMm} mm lens`,
  speed: (mps: string): string => `${mps} m/s`,
  cropLimit: (percent: string): string => `limit ${percent} %`,
  share: {
    range: (low: string, high: string): string => `${low} to ${high} %`,
    alone: 'can be stabilised',
  },
  worstAxis: 'worst axis',
  axisUnknown: 'none above noise',
  surfaceUnknown: 'not graded',
  bumps: (count: number): string =>
    count === 0 ? 'no joints found' : count === 1 ? '1 joint or bump' : `${count} joints, bumps`,
  notMeasured: 'not measured',
  cropTitle: 'Crop by smoothing, % of the width',
  /** @param more doubts besides this one */
  inDoubt: (sentence: string, more: number): string =>
    `In doubt: ${sentence}${more === 0 ? '' : ` And ${more} more in the report.`}`,
  mind: (sentence: string): string => `Mind: ${sentence}`,
  likeTheTest: (outcome: string): string => `${outcome} (a take like the test)`,
  /** @param darkestFrom height with its unit, null where nothing is shaded */
  floorTitle: (unit: string, darkestFrom: string | null): string =>
    `Floor along the run, ${unit}${darkestFrom === null ? '' : `; darkest: rises by ${darkestFrom} or more`}`,
  /** The marks along the floor. */
  floorMarks: (up: boolean, down: boolean, many: boolean): string => {
    const shapes = up && down ? 'filled goes up, empty goes down' : up ? 'all go up' : 'all go down';
    return `Marks: ${many ? shapes : up ? 'goes up' : 'goes down'}${many ? '; 1 is the worst' : ''}`;
  },
  inSeconds: (value: string): string => `${value} s`,
  limit: (value: string): string => `limit ${value}`,
  doFirst: 'Do first',
  shootAgain: 'What to shoot again',
} as const;
