/** Ratios and their ranges in the words of a sentence; a figure is never rounded across 1. */
import { figure } from '../../run/index.js';
import { figureTexts, ratioTexts } from '../../texts/index.js';
import type { Claim } from './design.js';

/** Two decimals below 10, more where rounding would carry it to the other side of 1. @example ratioFigure(0.7978) // "0.80" */
export function ratioFigure(ratio: number): string {
  if (ratio >= 10) return figure(ratio);
  if (ratio < 0.01) return figure(ratio);
  const side = Math.sign(ratio - 1);
  for (let decimals = 2; decimals < 6; decimals++) {
    const text = ratio.toFixed(decimals);
    if (Math.sign(Number(text) - 1) === side) return text;
  }
  return ratio.toFixed(2);
}

/** @example rangeWords([0.6641, 0.9583]) // "0.66 to 0.96" */
export function rangeWords([low, high]: readonly [number, number]): string {
  return figureTexts.range(ratioFigure(low), ratioFigure(high));
}

/** A range of A over B as how much smoother or rougher A may be. @example spanWords([0.629, 1.0117]) // "37 % smoother to 1 % rougher" */
export function spanWords([low, high]: readonly [number, number]): string {
  return ratioTexts.span(sideWords(low), sideWords(high));
}

/** A range of A over B that lies below 1 throughout. @example smootherWords([0.23, 0.72]) // "28 to 77 % smoother" */
export function smootherWords([low, high]: readonly [number, number]): string {
  return ratioTexts.smootherBy(percentOff(high), percentOff(low));
}

function sideWords(ratio: number): string {
  return ratioTexts.side(percentOff(ratio), ratio < 1);
}

function percentOff(ratio: number): string {
  const percent = 100 * Math.abs(ratio - 1);
  return percent < 1 ? '< 1' : percent.toFixed(0);
}

/** Below this chance nothing is said to lean: both sides are about as likely. */
const LEANS = 0.8;

/**
 * To which side an unclear result leans, and how likely that side is; null where it does not.
 *
 * The chance is cut off, not rounded: what is printed as 97 never reached the 97.5 at which a question asked alone would be clear.
 * @param aSmoother chance that A is the smoother one @example leaningOf(0.886) // { to: "a", inHundred: 88 }
 */
export function leaningOf(aSmoother: number | null): { to: 'a' | 'b'; inHundred: number } | null {
  if (aSmoother === null) return null;
  const chance = Math.max(aSmoother, 1 - aSmoother);
  // A hair more, so that 0.9 stays 90 when it was computed as 1 - 0.1.
  const inHundred = Math.min(99, Math.floor(100 * chance + 1e-9));
  return chance < LEANS - 1e-9 ? null : { to: aSmoother > 0.5 ? 'a' : 'b', inHundred };
}

/** How far a clear difference reaches. */
export function reachWords(claim: Claim): string {
  const { asRolled, thisLane, floorsLikeThese } = ratioTexts.reach;
  if (claim === 'theseStretches') return asRolled;
  return claim === 'thisLane' ? thisLane : floorsLikeThese;
}
