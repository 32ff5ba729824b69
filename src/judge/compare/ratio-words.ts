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

function sideWords(ratio: number): string {
  const percent = 100 * Math.abs(ratio - 1);
  return `${percent < 1 ? '< 1' : percent.toFixed(0)} % ${ratio < 1 ? 'smoother' : 'rougher'}`;
}

/** How far a clear difference reaches. */
export function reachWords(claim: Claim): string {
  if (claim === 'theseStretches') return 'as rolled';
  return claim === 'thisLane' ? 'on this lane' : 'on floors like these';
}

/** Below which factor nothing can be said. */
export function sameTimes({
  ratio,
  ci95,
}: {
  readonly ratio: number;
  readonly ci95: readonly [number, number];
}): string {
  return `Below x${figure(ci95[1] / ratio)} nothing can be said: run both on one lane.`;
}

/** A sentence that may begin with the name of a setup. */
export function capital(sentence: string): string {
  return sentence.slice(0, 1).toUpperCase() + sentence.slice(1);
}
