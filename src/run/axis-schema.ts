/** What stands in a document for each axis: one field an axis, described with the axis' direction and sign. */
import { z } from 'zod';
import type { Axis } from './axes.js';

/** The axis and its sign, as the fields of every document are described. */
const AXIS_SAYS: Readonly<Record<Axis, string>> = {
  pan: 'Pan, the camera turning sideways, + to the right',
  tilt: 'Tilt, the camera turning up and down, + up',
  roll: 'Roll, the camera turning about the lens, + clockwise seen from behind',
  lateral: 'Lateral, the camera moving sideways, + to the right',
  vertical: 'Vertical, the camera moving up and down, + up',
  axial: 'Axial, the camera moving along the lens, + forward',
};

/** The field of one axis. @param what half a sentence: what stands there, with its unit */
function ofAxis<Field extends z.ZodType>(axis: Axis, field: Field, what: string): Field {
  return field.describe(`${AXIS_SAYS[axis]}: ${what}.`);
}

/** Fields of pan, tilt and roll. @param what half a sentence: what stands in each, with its unit */
export function angularFields<Field extends z.ZodType>(field: Field, what: string) {
  return {
    pan: ofAxis('pan', field, what),
    tilt: ofAxis('tilt', field, what),
    roll: ofAxis('roll', field, what),
  };
}

/** Fields of lateral, vertical and axial. @param what half a sentence: what stands in each, with its unit */
export function translationalFields<Field extends z.ZodType>(field: Field, what: string) {
  return {
    lateral: ofAxis('lateral', field, what),
    vertical: ofAxis('vertical', field, what),
    axial: ofAxis('axial', field, what),
  };
}

/** An object with one field for each of the six axes. @param what half a sentence: what stands in each, with its unit */
export function sixAxesSchema<Field extends z.ZodType>(field: Field, what: string) {
  return z.strictObject({ ...angularFields(field, what), ...translationalFields(field, what) });
}
