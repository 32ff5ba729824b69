/** A pair turned so that its ratios read as its headline does: the smoother side over the other one. */
import { isAngular, type ComparedPair, type ComparedRatio, type Comparison } from '../../run/index.js';

/** The comparison with every pair as its headline reads it. */
export function asTold(comparison: Comparison): Comparison {
  return { ...comparison, pairs: comparison.pairs.map(pairAsTold) };
}

/** The pair itself unless only its second side is clearly smoother, by turning the camera; then the second side over the first. */
function pairAsTold(pair: ComparedPair): ComparedPair {
  const says = pair.axes.filter(({ axis }) => isAngular(axis)).map((ratio) => ratio.says);
  return says.includes('bSmoother') && !says.includes('aSmoother') ? turned(pair) : pair;
}

/** B over A in place of A over B; sentences name both sides and stay. */
function turned(pair: ComparedPair): ComparedPair {
  const { a, b, passes, conditions, axes, bands, wavelength, crop } = pair;
  return {
    ...pair,
    a: b,
    b: a,
    passes: { a: passes.b, b: passes.a },
    conditions: conditions.map((condition) => ({ ...condition, a: condition.b, b: condition.a })),
    axes: axes.map(turnedRatio),
    bands: bands.map(turnedRatio),
    wavelength: wavelength && { ...wavelength, axes: wavelength.axes.map(turnedRatio) },
    crop: { ...crop, a: crop.b, b: crop.a, ratio: over(crop.ratio), ci95: turnedRange(crop.ci95) },
  };
}

const SAYS = {
  aSmoother: 'bSmoother',
  bSmoother: 'aSmoother',
  noClearDifference: 'noClearDifference',
  sameWithin10: 'sameWithin10',
  notCompared: 'notCompared',
} as const satisfies Record<ComparedRatio['says'], ComparedRatio['says']>;

function turnedRatio<Ratio extends ComparedRatio>(one: Ratio): Ratio {
  return {
    ...one,
    aRms: one.bRms,
    bRms: one.aRms,
    ratio: over(one.ratio),
    ci95: turnedRange(one.ci95),
    aSmoother: one.aSmoother === null ? null : 1 - one.aSmoother,
    says: SAYS[one.says],
  };
}

function over(ratio: number | null): number | null {
  return ratio === null ? null : 1 / ratio;
}

function turnedRange(range: ComparedRatio['ci95']): ComparedRatio['ci95'] {
  return range && [1 / range[1], 1 / range[0]];
}
