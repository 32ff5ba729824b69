/** Units of the run document: degrees for angles, millimetres or per cent of the median depth for translation. */
import { isAngular, type Axis } from '../run/index.js';
import type { Spectrum } from './types.js';

/** Factor from the inside unit to the printed one, and the printed unit's name. */
export interface PrintedUnit {
  readonly factor: number;
  readonly name: 'deg' | 'mm' | 'percent';
}

/** The unit that figures of an axis are printed in. */
export function printedUnit(axis: Axis, translationUnit: Spectrum['translationUnit']): PrintedUnit {
  if (isAngular(axis)) return { factor: 180 / Math.PI, name: 'deg' };
  return translationUnit === 'm' ? { factor: 1000, name: 'mm' } : { factor: 100, name: 'percent' };
}
