/** Answers to what if: what was asked to be different, and what stands beside an answer. Figures come printed. */
import { opticsMm } from './words.js';

/** Ways of stabilising, as they are asked for. */
const WAYS = {
  keepMove: 'keep the move',
  holdStill: 'hold still',
  smoothest: 'smoothest within the crop allowed',
} as const;

/** What was asked: names of things and their values as they stand in a cell. */
export const whatIfAskedTexts = {
  notGiven: 'not given',
  names: {
    lens: 'Lens',
    sensor: 'Sensor width',
    delivery: 'Delivery',
    viewing: 'Viewing distance',
    speed: 'Speed',
    wheelbase: 'Wheelbase',
    wheels: 'Wheels',
    tyres: 'Tyres',
    shutter: 'Shutter',
    way: 'Way',
    smoothing: 'Smoothing',
    take: 'Take',
  },
  /** Of a lens or a sensor. */
  opticsMm,
  mm: (value: string): string => `${value} mm`,
  mps: (value: string): string => `${value} m/s`,
  degrees: (value: string): string => `${value} deg`,
  seconds: (value: string): string => `${value} s`,
  screenHeights: (value: string): string => `${value} screen heights`,
  ways: WAYS,
  tyres: { soft: 'soft', hard: 'hard' },
  /** @param name null where the delivery has none */
  delivery: (name: string | null, widthPx: number, heightPx: number, crop: string, leftPx: string): string =>
    `${name === null ? '' : `${name}, `}${widthPx} x ${heightPx}, crop up to ${crop} %, ${leftPx} px left`,
} as const;

/** What stands beside an answer. */
export const whatIfAnswerTexts = {
  cannotBeTrusted: (reason: string): string =>
    `The figures of this pass cannot be trusted, so nothing is foretold from them. ${reason}`,
  askWithoutTheChange:
    'Steps on floor and dolly are foretold for the pass as it was rolled: ask without the change.',
  widerPicture:
    'A picture wider than the clip leaves room above and below, so shake up and down costs it less crop.',
  narrowerPicture:
    'A picture narrower than the clip leaves room at both sides, so shake left and right costs it less crop.',
} as const;
