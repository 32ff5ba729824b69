/** Words in and around the charts of the floor: the run seen from above, its profile, and the waves that it is made of. */
import { figure } from '../../run/index.js';

const KINDS = { joint: 'joint', step: 'step', bump: 'bump', dip: 'dip' } as const;
const ROUGH = 'rise and fall';

/** Words of the charts of the floor. */
export const floorChartTexts = {
  kind: (kind: keyof typeof KINDS): string => KINDS[kind],
  left: 'left',
  right: 'right',
  mean: 'mean',
  leftLine: 'left wheel line',
  rightLine: 'right wheel line',
  meanLine: 'mean of both wheel lines',
  up: 'filled: up',
  down: 'empty: down',
  loose: 'between the lines: which one is not known',
  start: 'start: rear axle at the first frame',
  direction: 'direction of travel',
  directionShort: 'travel',
  jointRow: (count: number, spacing: string): string => `row of ${count} joints, one every ${spacing}`,
  distanceAxis: (unit: string): string => `distance along the run, ${unit}`,
  timecodeAxis: 'timecode when the front axle is there',
  heightAxis: (unit: string): string => `height, ${unit}`,
  linesAxis: (unit: string): string => `each wheel line, ${unit}`,
  band: '95 % band',
  shadeKey: (window: string): string => `${ROUGH} within ${window}`,
  shadeTop: (height: string, more: boolean): string => (more ? `${height} and more` : height),
  shadeUnknown: 'hidden by noise',
  sizeKey: (height: string): string => `${height} high`,
  /** Read at a place. */
  place: (distance: string): string => `${distance} from the start`,
  frontAt: (distance: string, timecode: string): string => `${distance}, front axle there at ${timecode}`,
  frontBefore: (distance: string): string => `${distance}, front axle there before the first frame`,
  height: (name: string, height: string, within: string): string => `${name} ${height} ± ${within}`,
  nearestBump: (mark: string, place: string, words: string): string =>
    `${mark === '' ? 'Nearest' : `No. ${mark}`}, at ${place}: ${words}`,
  /** For those who do not see the charts. */
  stripLabel: (count: number, length: string): string =>
    `The run of ${length} from above: ${count === 0 ? 'no joints or bumps' : `${count} joints and bumps at their places`} on the wheel lines`,
  profileLabel: 'Height of the surface along the run with its 95 % band, and each wheel line',
  wavesLabel: 'Roughness in one-third-octave bands of wavelength, decibels re one micrometre',
  levelAxis: 'level, dB re 1 µm',
  waveAxis: (unit: string): string => `wavelength, ${unit}`,
  waveAt: (nominal: string): string => `Waves of ${nominal}`,
  asRolled: 'as rolled',
  withoutBumps: 'without joints and bumps',
  railLimit: 'limit for rails',
  level: (name: string, db: number, withinDb: number | null): string =>
    `${name} ${db.toFixed(1)}${withinDb === null ? '' : ` ± ${figure(withinDb)}`} dB`,
  levelBelow: (name: string, db: number): string => `${name} below ${db.toFixed(1)} dB`,
} as const;
