/** Advice on lens, speed, floor and dolly: what to do, and what it brings. Figures come printed, without their unit. */
import { aLens } from './words.js';

/** Lenses. A focal length stands beside the word lens always. */
export const lensAdviceTexts = {
  /** Words before the effect. */
  lead: (mm: string): string => `With ${aLens(mm)}:`,
  factor: (times: string): string => `Use a lens ${times} times as long as this one, or shorter.`,
  withRoom: (mm: string): string => `Use a lens of ${mm} mm: that leaves room for a repeat of the move.`,
  orShorter: (mostMm: string): string => `Use a lens of ${mostMm} mm or shorter.`,
  orShorterNearest: (mostMm: string, usualMm: string): string =>
    `Use a lens of ${mostMm} mm or shorter; ${aLens(usualMm)} is the nearest usual one.`,
  orShorterWithRoom: (mostMm: string, usualMm: string): string =>
    `Use a lens of ${mostMm} mm or shorter; ${aLens(usualMm)} leaves room for a repeat of the move.`,
  longest: {
    text: (mostMm: string, withRoomMm: string): string =>
      `Lenses up to ${mostMm} mm keep the limits here; with room for a repeat of the move, lenses up to ${withRoomMm} mm.`,
    /** @param leftPx null where it is not known */
    effect: (mm: string, crop: string, leftPx: string | null): string =>
      `With ${aLens(mm)} stabilising costs ${crop} % of the width${leftPx === null ? '' : ` and leaves ${leftPx} px of shake`}.`,
  },
  noneDoes: {
    text: 'Do not look for a wider lens: none meets the limits, not even one a tenth as long.',
    effect: 'Roll of the camera costs as much on any lens.',
  },
} as const;

/** What rings a mount when it comes at the mount's frequency. */
export type Ringer = 'wheel' | 'joint' | 'axles';

const RINGERS: Readonly<Record<Ringer, string>> = {
  wheel: 'the wheels ring',
  joint: 'the joints ring',
  axles: 'the two axles together ring',
};

/** Speeds. */
export const speedAdviceTexts = {
  lead: (mps: string): string => `At ${mps} m/s:`,
  /** @param highMps null where the range is told as one speed @param keepOff a sentence of `keepOff`, or nothing */
  roll: (lowMps: string, highMps: string | null, nowMps: string, keepOff: string): string =>
    `Roll at ${lowMps}${highMps === null ? '' : ` to ${highMps}`} m/s instead of ${nowMps} m/s.${keepOff === '' ? '' : ` ${keepOff}`}`,
  /** @param speeds each of `ringing` */
  keepOff: (speeds: readonly string[]): string => `Keep off ${speeds.join(', and off ')}.`,
  ringing: (mps: string, by: Ringer, mountHz: string, nowPx: string, thenPx: string): string =>
    `${mps} m/s, where ${RINGERS[by]} the mount at ${mountHz} Hz (${nowPx} px of shake grow to about ${thenPx} px)`,
  notKnown: 'Give the speed of the pass or its travel (--speed, --travel), and measure it again.',
  smoothingDoesNotFit: 'The smoothing that was asked for does not fit the run at this speed.',
} as const;

/** Joints, boards and rail. */
export const floorAdviceTexts = {
  /** @param places each of `bumpAt`, in the order of the way */
  shim: (places: readonly string[]): string =>
    places.length < 2
      ? `Shim or bridge ${places.join('')}.`
      : `Shim or bridge ${places.slice(0, -1).join('; ')}; and ${places[places.length - 1]}.`,
  /** @example "at 1.812 m the joint of 0.62 mm up, both wheel lines" */
  bumpAt: (place: string, bump: string): string => `at ${place} the ${bump}`,
  shimRow: (count: number, spacingM: string): string =>
    `Shim or bridge all ${count} joints of the row, ${spacingM} m apart.`,
  shimAllWithRow: (count: number, inRow: number, spacingM: string): string =>
    `Shim or bridge all ${count} joints and bumps of the list, ${inRow} of them a row ${spacingM} m apart.`,
  shimAll: (count: number): string => `Shim or bridge all ${count} joints and bumps of the list.`,
  worstFrame: {
    text: (place: string, bump: string): string =>
      `Shim or bridge at ${place} the ${bump}: the worst frame is there.`,
    /** @param kickPx null where it is not known */
    effect: (kickPx: string | null): string =>
      `The crop is set by the worst frame alone${kickPx === null ? '' : `, and this kicks the picture by ${kickPx} px`}.`,
  },
  layBoards: (className: string, word: string): string =>
    `Lay boards or rail without joints, of class ${className} or smoother ("${word}").`,
  onClass: (className: string): string => `On class ${className}:`,
  rollOn: (surface: string): string => `Roll on "${surface}" instead.`,
  allAxesAlike: 'All axes shake less in the same measure.',
} as const;

/** Wheels, machines and mounts. */
export const dollyAdviceTexts = {
  largerWheels: (thenMm: string, nowMm: string): string =>
    `Use wheels of ${thenMm} mm instead of ${nowMm} mm.`,
  softTyres: 'Use soft tyres of the same size.',
  hardWheels: 'Use hard wheels of the same size.',
  trueWheel: (hz: string): string =>
    `Clean, true or change the wheel that shakes at ${hz} Hz, in step with its turns.`,
  isolateMachine: (hz: string): string =>
    `Stop the machine that shakes at ${hz} Hz, or set it on something soft.`,
  stiffenMount: (hz: string): string => `Stiffen or brace the mount: it rings at ${hz} Hz.`,
} as const;

/** Where no single change can be foretold. */
export const setupAdviceTexts = {
  giveMore: 'Then other speeds, wheels and floors can be foretold.',
  lessShake: {
    /** @param axis the one that shakes most; null where none is known */
    text: (percent: number, axis: string | null): string =>
      `Take the angular shake down to about ${percent} % of this pass${axis === null ? '' : `, ${axis} first`}: slower, other wheels, boards or rail.`,
    effect: (crop: string, allowed: string): string =>
      `The crop falls about in step with it: ${crop} % to ${allowed} %.`,
  },
  changeSurface: {
    wellOver:
      'Stabilising will not help here: what stays is translational. Change the surface, rail, wheels or speed.',
    nearLimit:
      'What stays after stabilising is translational, and near the limit: a better surface, rail, wheels or speed makes it safe.',
    downTo: (percent: number): string =>
      `The translational shake has to come down to about ${percent} % of this pass.`,
    allowed: (px: string): string => `${px} px are allowed.`,
    mayBeAsMuch: (upToPx: string, allowedPx: string): string =>
      `It may be as much as ${upToPx} px; ${allowedPx} px are allowed.`,
  },
} as const;
