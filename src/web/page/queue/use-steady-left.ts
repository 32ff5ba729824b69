/** Time left for showing: steps that do not dance with every estimate. */
import { useRef } from 'preact/hooks';
import type { SpokenTime } from '../../../texts/index.js';
import { spokenTime, steadyLeft } from './time-left.js';

/** @param leftS seconds; null while it cannot be told @returns null then too */
export function useSteadyLeft(leftS: number | null): SpokenTime | null {
  const shown = useRef<number | null>(null);
  shown.current = leftS === null ? null : steadyLeft(shown.current, leftS);
  return shown.current === null ? null : spokenTime(shown.current);
}
