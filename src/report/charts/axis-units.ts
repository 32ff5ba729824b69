/** Units of chart axes: places in metres or feet, heights in millimetres or inches; the data stay metric. */
import type { Units } from '../../run/index.js';

/** What an axis counts in. */
export interface AxisUnit {
  readonly unit: string;
  /** One of it in the unit of the data (m for places, mm for heights). */
  readonly size: number;
}

/** Unit of an axis of places, data in metres. Where both systems are shown, axes are metric. 1 ft is 0.3048 m exactly. */
export function placeUnit(units: Units): AxisUnit {
  return units === 'imperial' ? { unit: 'ft', size: 0.3048 } : { unit: 'm', size: 1 };
}

/** Unit of an axis of heights or wavelengths, data in millimetres. 1 in is 25.4 mm exactly. */
export function heightUnit(units: Units): AxisUnit {
  return units === 'imperial' ? { unit: 'in', size: 25.4 } : { unit: 'mm', size: 1 };
}
