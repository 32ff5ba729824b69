/** The speed that wheels and joints speak for, m/s: offered to the crew, never used by a figure. */
import type { Explanation } from './explanations.js';
import type { NamingRules } from './naming-rules.js';
import type { SuggestedSpeed } from './types.js';
import type { WeighedPass } from './weigh-pass.js';

/** A source counts when it more likely rolls than not. */
const ROLLS_FROM = 0.5;

/**
 * @returns null without a speed as given, and when no source is likely of constant wavelength. Joints whose spacing this same pass
 *   showed do not count: their places were scaled by the speed that is asked for.
 */
export function suggestSpeed(
  speedMps: number | null,
  sources: readonly (readonly Explanation[])[],
  weighed: WeighedPass,
  rules: NamingRules,
): SuggestedSpeed | null {
  if (speedMps === null) return null;
  const rolling = sources.filter((explanations, s) => {
    let sum = 0;
    explanations.forEach(({ tellsSpeed }, i) => (sum += tellsSpeed ? weighed.shares[s][i] : 0));
    return sum > ROLLS_FROM;
  });
  if (rolling.length === 0) return null;
  return {
    speedMps: speedMps * (1 + weighed.speedError.mean),
    sdMps: speedMps * weighed.speedError.sd,
    confidence: Math.min(weighed.tellsSpeed, rules.probabilityCap),
    fromSources: rolling.length,
  };
}
