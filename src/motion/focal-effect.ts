/**
 * What a wrong focal length does to each figure.
 *
 * With the focal length taken g times too long, every image point lies 1/g as far from the axis as it should, which is
 * the same picture of a scene g times as deep: turns come out 1/g, lengths along the lens g, lengths across it 1. The known
 * travel then scales all lengths by s = L / sqrt(L_across^2 + (g L_along)^2), so lateral and vertical scale by s and
 * axial by g s. Without travel lengths count in median depths, which are g as large. Own derivation; agrees with
 * simulated passes (+-10 %: pan and tilt -8.7 and +10.8 %, roll unchanged).
 */
import { AXES, type Axis, type SixAxes } from '../run/index.js';
import { focalEffectTexts } from '../texts/index.js';

/** Relative change of the RMS of each axis, 0.1 for 10 %. */
export type FocalEffect = Readonly<Record<Axis, number>>;

/** Share of the squared travel that runs along the lens, 0..1, from the intended move; 0 for a camera that stays in place. */
export function shareAlongLens(intended: SixAxes): number {
  const energy = (axis: Axis): number => {
    const column = intended[axis];
    let sum = 0;
    for (let t = 1; t < column.length; t++) sum += (column[t] - column[t - 1]) ** 2;
    return sum;
  };
  const along = energy('axial');
  const all = along + energy('lateral') + energy('vertical');
  return all > 0 ? along / all : 0;
}

/**
 * Effect on every axis of a focal length taken `g` times as long as it is.
 *
 * @param along share of the squared travel along the lens, 0..1
 * @param metric true when the travel is known, false when lengths count in median depths
 */
export function focalEffect(g: number, along: number, metric: boolean): FocalEffect {
  const s = metric ? 1 / Math.sqrt(1 - along + g * g * along) : 1 / g;
  const factors: Record<Axis, number> = {
    pan: 1 / g,
    tilt: 1 / g,
    roll: 1,
    lateral: s,
    vertical: s,
    axial: g * s,
  };
  return Object.fromEntries(AXES.map((axis) => [axis, factors[axis] - 1])) as Record<Axis, number>;
}

/** The effect of a focal length taken a tenth too long and too short, in words. */
export function focalEffectInWords(along: number, metric: boolean): string {
  const of = (g: number): string => {
    const effect = focalEffect(g, along, metric);
    const says = (value: number): string =>
      Math.abs(value) < 0.005
        ? focalEffectTexts.right
        : focalEffectTexts.reads(Math.round(100 * Math.abs(value)), value > 0 ? 'large' : 'small');
    return focalEffectTexts.axes(
      says(effect.pan),
      says(effect.roll),
      says(effect.lateral),
      says(effect.axial),
    );
  };
  return focalEffectTexts.ifTaken(of(1.1), of(0.9));
}
