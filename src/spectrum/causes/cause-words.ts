/** Says causes as a crew says them. */
import { figure } from '../../run/index.js';
import type { CauseName } from './types.js';

const WHEEL_FAULTS = ['once a turn (out of round or a flat)', 'twice a turn (oval)'];

/**
 * A cause in words.
 *
 * @param order multiple of the wheel's turn or of the joints' beat, number of the machine
 * @example causeInWords('wheel', 2) // "a wheel, twice a turn (oval)"
 */
export function causeInWords(cause: CauseName, order: number): string {
  switch (cause) {
    case 'wheel':
      return `a wheel, ${WHEEL_FAULTS[order - 1] ?? `${order} times a turn (as many lobes)`}`;
    case 'joint':
      return order === 1 ? 'joints of the floor' : `joints of the floor, ${order} times their beat`;
    case 'machine':
      return `machine ${order} of those given`;
    case 'mount':
      return 'the mount of the camera, ringing';
    case 'lamp':
      return 'a lamp that flickers, no motion';
    case 'unknown':
      return 'something unlisted';
  }
}

/** The same with its frequency. @example causeAtHz('machine', 1, 31) // "machine 1 of those given (31 Hz)" */
export function causeAtHz(cause: CauseName, order: number, trueHz: number): string {
  return `${causeInWords(cause, order)} (${figure(trueHz)} Hz)`;
}
