/** What shakes a made-up pass and at which frequencies: the answers that a measurement of the clip should find. */
import { aliasedFrequencyHz } from '../../optics/index.js';
import type { SynthOptions } from '../options.js';

/** One cause. */
export interface TrueCause {
  readonly cause: 'wheel' | 'joint' | 'machine' | 'mount' | 'lamp';
  /**
   * Of the motion (of the light for a lamp), Hz; of a wheel the wave of its lobe, of joints the beat of their spacing, both at the
   * mean speed of the pass.
   */
  readonly freqHz: number;
  /** Where frames show it: `freqHz` folded at half the frame rate. */
  readonly seenHz: number;
  /** Waves in a turn of a wheel, 1 for all else; joints also shake at every whole multiple. */
  readonly order: number;
}

/** Lists the causes of a pass; the broad shake of a floor, and steps and bumps, are none. @param meanSpeedMps of the pass */
export function trueCauses({ deck, machines, lamps, fps }: SynthOptions, meanSpeedMps: number): TrueCause[] {
  const at = (cause: TrueCause['cause'], freqHz: number, order = 1): TrueCause => ({
    cause,
    freqHz,
    seenHz: aliasedFrequencyHz(freqHz, fps),
    order,
  });
  const turnsPerS = deck ? meanSpeedMps / (2 * Math.PI * deck.wheelRadiusM) : 0;
  return [
    ...(deck?.lobes ?? []).map(({ perTurn }) => at('wheel', perTurn * turnsPerS, perTurn)),
    ...(deck?.floor.joints ? [at('joint', meanSpeedMps / deck.floor.joints.spacingM)] : []),
    ...machines.map(({ freqHz }) => at('machine', freqHz)),
    ...(deck?.mount ? [at('mount', deck.mount.freqHz)] : []),
    ...(lamps ? [at('lamp', lamps.freqHz)] : []),
  ];
}
