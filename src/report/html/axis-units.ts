/** Units in which the six axes are drawn and tabled: degrees for angles; mm, inches or per cent of the subject distance for translations. */
import { isAngular, type Axis, type RunDocument } from '../../run/index.js';
import type { Motion } from '../../motion/index.js';
import { heightUnit } from '../charts/axis-units.js';

/** A unit and how much of it one unit of the data is. */
export interface ShownUnit {
  readonly unit: string;
  readonly factor: number;
}

const DEG = 180 / Math.PI;

/** Of a series inside the program: radians, metres or subject distances. */
export function seriesUnit(axis: Axis, { translationUnit }: Motion, { units }: RunDocument): ShownUnit {
  if (isAngular(axis)) return { unit: '°', factor: DEG };
  if (translationUnit !== 'm') return { unit: '%', factor: 100 };
  const { unit, size } = heightUnit(units);
  return { unit, factor: 1000 / size };
}

/** Of a figure of the run document: degrees, mm or per cent. */
export function figureUnit(axis: Axis, { motion, units }: RunDocument): ShownUnit {
  if (isAngular(axis)) return { unit: '°', factor: 1 };
  if (motion.translational.unit !== 'mm') return { unit: '%', factor: 1 };
  const { unit, size } = heightUnit(units);
  return { unit, factor: 1 / size };
}

/** The unit that sentences name, in metric always: a page rewrites what it prints. @example sentenceUnit('tilt', run) // "°" */
export function sentenceUnit(axis: Axis, { motion }: RunDocument): string {
  if (isAngular(axis)) return '°';
  return motion.translational.unit === 'mm' ? 'mm' : '%';
}
