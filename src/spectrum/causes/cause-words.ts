/** Says causes as a crew says them. */
import { figure } from '../../run/index.js';
import { namedCauseTexts } from '../../texts/index.js';
import type { CauseName } from './types.js';

/**
 * A cause in words.
 *
 * @param order multiple of the wheel's turn or of the joints' beat, number of the machine
 * @example causeInWords('wheel', 2) // "a wheel, twice a turn (oval)"
 */
export function causeInWords(cause: CauseName, order: number): string {
  switch (cause) {
    case 'wheel':
    case 'joint':
    case 'machine':
      return namedCauseTexts[cause](order);
    case 'mount':
    case 'lamp':
    case 'unknown':
      return namedCauseTexts[cause];
  }
}

/** The same with its frequency. @example causeAtHz('machine', 1, 31) // "machine 1 of those given (31 Hz)" */
export function causeAtHz(cause: CauseName, order: number, trueHz: number): string {
  return namedCauseTexts.atHz(causeInWords(cause, order), figure(trueHz));
}
