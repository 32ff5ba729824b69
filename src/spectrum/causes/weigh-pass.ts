/**
 * Weighs all sources of a pass together: wheel and joints are each at work or not, and the speed is off by one error for all of
 * them. Own derivation: the posterior over four switches and the error of the speed, each source a mixture of its explanations.
 */
import type { Explanation } from './explanations.js';
import type { NamingRules } from './naming-rules.js';
import type { SpeedErrors } from './speed-errors.js';
import type { CauseName } from './types.js';

/** What the pass as a whole says. */
export interface WeighedPass {
  /** Probability of each explanation, as the sources and their explanations came; sums to 1 for a source. */
  readonly shares: readonly (readonly number[])[];
  /** Of the speed's error, given that a source is there that tells it. */
  readonly speedError: { readonly mean: number; readonly sd: number };
  /** Probability that at least one source is there that tells the speed. */
  readonly tellsSpeed: number;
}

/** Keeps a source that nothing explains from ending the sum. */
const TINY = 1e-300;

/** @param sources the explanations of each source, from {@link explanationsOf} with the same `speeds` */
export function weighPass(
  sources: readonly (readonly Explanation[])[],
  speeds: SpeedErrors,
  rules: NamingRules,
): WeighedPass {
  const { errors, prior } = speeds;
  const n = errors.length;
  const byClass = sources.map((explanations) => classDensities(explanations, n));
  const states = switchStates(sources, rules).map((state) => {
    const mixtures = byClass.map((classes) => mixture(classes, state.weights, n));
    const logWeight = errors.map((_, i) =>
      mixtures.reduce((sum, mix) => sum + Math.log(mix[i] + TINY), state.logPrior + Math.log(prior[i])),
    );
    return { ...state, mixtures, logWeight };
  });
  const top = Math.max(...states.map(({ logWeight }) => logWeight.reduce((a, b) => Math.max(a, b))));
  const weights = states.map(({ logWeight }) => logWeight.map((w) => Math.exp(w - top)));
  const total = weights.reduce((sum, w) => sum + w.reduce((a, b) => a + b, 0), 0);

  const shares = sources.map((explanations, s) =>
    explanations.map(({ cause, density }) => {
      let sum = 0;
      states.forEach(({ weights: classWeights, mixtures }, k) => {
        const classWeight = classWeights[cause];
        if (classWeight === 0) return;
        const mix = mixtures[s];
        for (let i = 0; i < n; i++) sum += (weights[k][i] * classWeight * density[i]) / (mix[i] + TINY);
      });
      return sum / total;
    }),
  );

  // The speed is told where at least one source rolls: the weight of "none does" is taken off.
  const moments = [0, 0, 0];
  states.forEach(({ weights: classWeights, mixtures }, k) => {
    for (let i = 0; i < n; i++) {
      let none = 1;
      sources.forEach((explanations, s) => {
        let rolling = 0;
        for (const { cause, density, tellsSpeed } of explanations)
          if (tellsSpeed) rolling += classWeights[cause] * density[i];
        none *= 1 - rolling / (mixtures[s][i] + TINY);
      });
      const weight = (weights[k][i] * (1 - none)) / total;
      moments[0] += weight;
      moments[1] += weight * errors[i];
      moments[2] += weight * errors[i] ** 2;
    }
  });
  const mean = moments[0] > 0 ? moments[1] / moments[0] : 0;
  const variance = moments[0] > 0 ? Math.max(moments[2] / moments[0] - mean ** 2, 0) : 0;
  return { shares, speedError: { mean, sd: Math.sqrt(variance) }, tellsSpeed: moments[0] };
}

type ByClass = ReadonlyMap<CauseName, Float64Array>;

function classDensities(explanations: readonly Explanation[], n: number): ByClass {
  const classes = new Map<CauseName, Float64Array>();
  for (const { cause, density } of explanations) {
    const sum = classes.get(cause) ?? new Float64Array(n);
    for (let i = 0; i < n; i++) sum[i] += density[i];
    classes.set(cause, sum);
  }
  return classes;
}

function mixture(classes: ByClass, weights: Readonly<Record<CauseName, number>>, n: number): Float64Array {
  const mix = new Float64Array(n);
  for (const [cause, density] of classes) {
    const weight = weights[cause];
    for (let i = 0; i < n; i++) mix[i] += weight * density[i];
  }
  return mix;
}

interface SwitchState {
  readonly weights: Readonly<Record<CauseName, number>>;
  readonly logPrior: number;
}

/** Wheel and joints on or off where they may be; classes that no source could come from weigh nothing. */
function switchStates(sources: readonly (readonly Explanation[])[], rules: NamingRules): SwitchState[] {
  const mayBe = new Set(sources.flatMap((explanations) => explanations.map(({ cause }) => cause)));
  const ways = (cause: CauseName, atWork: number): [boolean, number][] =>
    mayBe.has(cause)
      ? [
          [true, atWork],
          [false, 1 - atWork],
        ]
      : [[false, 1]];
  return ways('wheel', rules.wheelAtWork).flatMap(([wheel, wheelPrior]) =>
    ways('joint', rules.jointsAtWork).map(([joint, jointPrior]) => {
      const weight = (cause: CauseName): number => {
        const off = (cause === 'wheel' && !wheel) || (cause === 'joint' && !joint);
        // Any mount may ring, whether one of these peaks could be it or not.
        return (mayBe.has(cause) || cause === 'mount') && !off ? rules.classWeights[cause] : 0;
      };
      const causes = Object.keys(rules.classWeights) as CauseName[];
      const sum = causes.reduce((all, cause) => all + weight(cause), 0);
      const weights = Object.fromEntries(causes.map((cause) => [cause, weight(cause) / sum]));
      return { weights: weights as Record<CauseName, number>, logPrior: Math.log(wheelPrior * jointPrior) };
    }),
  );
}
