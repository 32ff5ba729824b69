/**
 * The six axes of camera motion, named as a camera operator names them.
 *
 * Signs: pan + turns the camera right, tilt + up, roll + clockwise seen from behind the camera;
 * lateral + right, vertical + up, axial + forward along the lens.
 */
export const ANGULAR_AXES = ['pan', 'tilt', 'roll'] as const;
export const TRANSLATIONAL_AXES = ['lateral', 'vertical', 'axial'] as const;
export const AXES = [...ANGULAR_AXES, ...TRANSLATIONAL_AXES] as const;

export type AngularAxis = (typeof ANGULAR_AXES)[number];
export type TranslationalAxis = (typeof TRANSLATIONAL_AXES)[number];
export type Axis = (typeof AXES)[number];

/** One column per axis, all of equal length. Angles in radians; translations in the unit its owner states. */
export type SixAxes = Record<Axis, Float64Array>;

/** Makes a six-axis table by calling `column` once for each axis. */
export function sixAxes(column: (axis: Axis) => Float64Array): SixAxes {
  return {
    pan: column('pan'),
    tilt: column('tilt'),
    roll: column('roll'),
    lateral: column('lateral'),
    vertical: column('vertical'),
    axial: column('axial'),
  };
}

/** Whether an axis is an angle: pan, tilt or roll. */
export function isAngular(axis: Axis): boolean {
  return (ANGULAR_AXES as readonly string[]).includes(axis);
}
