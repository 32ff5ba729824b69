/** Ratios and their ranges in the words of a sentence; a figure is never rounded across 1. */
import { figure } from '../../run/index.js';
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
  return `${ratioFigure(low)} to ${ratioFigure(high)}`;
}

/** A range of A over B as how much smoother or rougher A may be. @example spanWords([0.629, 1.0117]) // "37 % smoother to 1 % rougher" */
export function spanWords([low, high]: readonly [number, number]): string {
  return `${sideWords(low)} to ${sideWords(high)}`;
}

/** A range of A over B that lies below 1 throughout. @example smootherWords([0.23, 0.72]) // "28 to 77 % smoother" */
export function smootherWords([low, high]: readonly [number, number]): string {
  return `${percentOff(high)} to ${percentOff(low)} % smoother`;
}

function sideWords(ratio: number): string {
  return `${percentOff(ratio)} % ${ratio < 1 ? 'smoother' : 'rougher'}`;
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

/** @example listed(['pan', 'tilt', 'roll']) // "pan, tilt and roll" */
export function listed(names: readonly string[]): string {
  return names.length < 2
    ? names.join('')
    : `${names.slice(0, -1).join(', ')} and ${names[names.length - 1]}`;
}

/** How far a clear difference reaches. */
export function reachWords(claim: Claim): string {
  if (claim === 'theseStretches') return 'as rolled';
  return claim === 'thisLane' ? 'on this lane' : 'on floors like these';
}

/** Below which factor nothing can be said, and what to do. */
export function sameTimes(
  {
    ratio,
    ci95,
  }: {
    readonly ratio: number;
    readonly ci95: readonly [number, number];
  },
  remedy: string,
): string {
  return `Below x${figure(ci95[1] / ratio)} nothing can be said: ${remedy}.`;
}

/** A sentence that may begin with the name of a setup. */
export function capital(sentence: string): string {
  return sentence.slice(0, 1).toUpperCase() + sentence.slice(1);
}
