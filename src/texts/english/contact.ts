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
  shakeTitle: (axis: string): string => `${axis}: shake over time, degrees`,
  cropTitle: 'Crop by smoothing, % of the width',
  floorTitle: 'Floor along the run: height, mm',
  inSeconds: (value: string): string => `${value} s`,
  inMetres: (value: string): string => `${value} m`,
  inFeet: (value: string): string => `${value} ft`,
  floorTitleInches: 'Floor along the run: height, in',
  limit: (value: string): string => `limit ${value}`,
  doFirst: 'Do first',
  shootAgain: 'What to shoot again',
  noFrame: 'No frame could be read',
} as const;
