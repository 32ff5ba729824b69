/** Reasons of a verdict: what stabilising costs and what it leaves, each beside its limit. Figures come printed, without their unit. */
import { asSentence, listed } from './words.js';

/** What stabilising costs, per cent of the frame width. */
export const cropReasonTexts = {
  /** The unit of the largest shift of a picture. */
  pxPeak: 'px peak',
  overLimit: (crop: string, allowed: string): string =>
    `Stabilising costs too much: ${crop} % of the frame width; ${allowed} % is allowed.`,
  withinLimit: (crop: string, allowed: string, repeatUpTo: string): string =>
    `Stabilising costs little enough: ${crop} % of the frame width; ${allowed} % is allowed, and a repeat of the move should fit too (up to ${repeatUpTo} %).`,
  justOver: (crop: string, allowed: string, errorDownTo: string): string =>
    `Stabilising costs too much, but it is close: ${crop} % of the frame width; ${allowed} % is allowed, and the measuring error reaches down to ${errorDownTo} %.`,
  errorMayPass: (crop: string, allowed: string, upTo: string): string =>
    `${LITTLE_TO_SPARE}: ${crop} % of the frame width; ${allowed} % is allowed, and the measuring error reaches up to ${upTo} %.`,
  repeatMayPass: (crop: string, allowed: string, upTo: string): string =>
    `${LITTLE_TO_SPARE}: ${crop} % of the frame width; ${allowed} % is allowed, and a repeat may need up to ${upTo} % (19 of 20 stay below).`,
  notNeeded: (shiftPx: string, seenFromPx: string, crop: string): string =>
    `The angular shake is too small to be seen: it moves the picture by ${shiftPx} px of the delivery at most, and less than ${seenFromPx} px is not seen. Stabilising would cost ${crop} % of the frame width.`,
} as const;

const LITTLE_TO_SPARE = 'Stabilising this pass fits with little to spare';

/** Words that may follow a reason, with the space before them. */
const weakly = (parallaxIsWeak: boolean): string =>
  parallaxIsWeak ? ' Parallax is weak in this clip, so the range is wide.' : '';
const why = (reason: string | null): string => (reason === null ? '' : ` ${asSentence(reason)}`);

/** What stays after stabilising, px RMS of the delivery. */
export const leftReasonTexts = {
  /** The unit of a reason that holds parallax against the noise. */
  timesTheNoise: 'times the noise',
  overLimit: (
    left: string,
    allowed: string,
    cause: 'path' | 'translation',
    parallaxIsWeak: boolean,
  ): string =>
    `Too much shake stays after stabilising: ${left} px; ${allowed} px are allowed. ${
      cause === 'path'
        ? 'Most of it is angular shake that the chosen path still follows.'
        : 'It comes from translation, which taking out the angles does not touch.'
    }${weakly(parallaxIsWeak)}`,
  withinLimit: (left: string, allowed: string, parallaxIsWeak: boolean): string =>
    `Little shake stays after stabilising: ${left} px; ${allowed} px are allowed.${weakly(parallaxIsWeak)}`,
  atLimit: (
    left: string,
    [low, high]: readonly [string, string],
    allowed: string,
    parallaxIsWeak: boolean,
  ): string =>
    `The shake that stays after stabilising cannot be told from the limit: ${left} px (${low} to ${high} px); ${allowed} px are allowed.${weakly(parallaxIsWeak)}`,
  notReliable: (left: string, allowed: string, axes: readonly string[], reason: string): string =>
    `How much shake stays after stabilising is not certain: about ${left} px (${allowed} px are allowed), but ${listed(axes)} motion is not reliable in this clip. ${reason}`,
  belowNoise: (parallaxTimes: string, neededTimes: number): string =>
    `Nothing shifts against anything else by more than the tracking noise (parallax ${parallaxTimes} times the noise, ${neededTimes} are needed to see any): stabilising leaves nothing that this clip can show. Translation itself was not measured.`,
  notMeasured: (reason: string | null): string => `${NOT_MEASURED}${why(reason)}`,
  notMeasuredBound: (bound: string, allowed: string, reason: string | null): string =>
    `${NOT_MEASURED} One warp leaves up to ${bound} px (limit ${allowed} px).${why(reason)}`,
  boundWithinLimit: (bound: string, allowed: string, reason: string | null): string =>
    `Translation could not be told from rotation, but what one warp leaves is at most ${bound} px; ${allowed} px are allowed.${why(reason)}`,
  wobble: (px: string, allowed: string): string =>
    `The rolling shutter bends the picture within each frame: a stabiliser that warps whole frames leaves ${px} px of that; ${allowed} px are allowed.`,
  wobbleEvenByRows: (px: string, byRowsPx: string, allowed: string): string =>
    `The rolling shutter bends the picture within each frame: ${px} px when whole frames are warped, and ${byRowsPx} px even when the rows are corrected; ${allowed} px are allowed.`,
} as const;

const NOT_MEASURED = 'The translation could not be measured, so what stabilising leaves is not known.';
