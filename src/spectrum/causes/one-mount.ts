/** A mount rings at one frequency: of several resonances that are named after it only the strongest keeps the name. */
import { figure } from '../../run/index.js';
import { unnamedSourceTexts } from '../../texts/index.js';
import type { ShakeSource } from './types.js';

/** Axes may show the top of one resonance this far apart, as a share of its frequency. */
const SAME_MOUNT_SHARE = 0.12;

/** Takes the name off resonances that stand far from the strongest one, or from the one that the crew knows. */
export function withOneMount(sources: readonly ShakeSource[], knownHz: number | null): ShakeSource[] {
  const mounts = sources.filter(({ cause }) => cause === 'mount');
  if (mounts.length < 2) return [...sources];
  const ringsHz =
    knownHz ?? mounts.reduce((most, one) => (strengthOf(one) > strengthOf(most) ? one : most)).freqHz;
  return sources.map((source) => {
    if (source.cause !== 'mount' || Math.abs(source.freqHz / ringsHz - 1) <= SAME_MOUNT_SHARE) return source;
    const reason = unnamedSourceTexts.secondMount(figure(ringsHz));
    return { ...source, cause: 'unknown', probability: null, trueHz: source.freqHz, reason };
  });
}

function strengthOf({ sightings }: ShakeSource): number {
  return sightings.reduce((sum, { peak }) => sum + peak.strength, 0);
}
