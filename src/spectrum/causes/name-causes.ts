/**
 * What shakes the camera: peaks of all axes become sources, each with the causes it may have and at most one name; frequencies in
 * hertz, speed in m/s. Own derivation, tuned and measured on simulated passes.
 */
import { judgeSource } from './candidates.js';
import { explanationsOf } from './explanations.js';
import { groupSightings, type SightingGroup } from './group-sightings.js';
import { harmonicFamilies } from './harmonic-families.js';
import { NAMING_RULES, type NamingRules } from './naming-rules.js';
import { withOneMount } from './one-mount.js';
import { tellable, tooShort, whyUnnamed } from './refusals.js';
import { speedErrors } from './speed-errors.js';
import { suggestSpeed } from './suggested-speed.js';
import type { KnownCauses, NamedCauses, ObservedBand, ShakeSource, Sighting } from './types.js';
import { weighPass } from './weigh-pass.js';

/**
 * Groups the peaks, weighs every explanation of all of them with one error of the speed, and names what is likely enough.
 *
 * Where the speed is not known only causes of constant frequency are named; where teeth of the joints' comb overlap, joints are not.
 *
 * @param known what may shake; nulls and empty lists where it is not known
 * @param rules {@link NAMING_RULES} unless given
 * @returns sources by rising frequency; without peaks none, and no speed
 */
export function nameCauses(
  sightings: readonly Sighting[],
  known: KnownCauses,
  band: ObservedBand,
  rules: NamingRules = NAMING_RULES,
): NamedCauses {
  const told = tellable(known, band);
  const groups = groupSightings(sightings, band.durationS);
  const refused = groups.map(({ freqHz }) => tooShort(freqHz, band.durationS, rules));
  const weighable = groups.filter((_, i) => refused[i] === null);
  const speeds = speedErrors(known.speedSdShare);
  const explanations = weighable.map((group) => explanationsOf(group, told.known, band, speeds, rules));
  const weighed = weighPass(explanations, speeds, rules);

  const named = weighable.map((group, i): ShakeSource => {
    const error = weighed.speedError.mean;
    const judged = judgeSource(group, explanations[i], weighed.shares[i], band.rateHz, error, rules);
    return {
      ...place(group),
      cause: judged.cause,
      probability: judged.probability,
      candidates: judged.candidates,
      trueHz: judged.trueHz,
      harmonic: null,
      reason: whyUnnamed(judged, group, told.known),
    };
  });
  const all = groups.map((group, i): ShakeSource => {
    const reason = refused[i];
    return reason === null ? named[weighable.indexOf(group)] : unweighed(group, reason);
  });
  const sources = withOneMount(all, known.mountHz);
  const harmonics = harmonicFamilies(sources, band);
  return {
    sources: sources.map((source, i) => ({ ...source, harmonic: harmonics[i] })),
    speed: suggestSpeed(told.known.speedMps, explanations, weighed, rules),
    notes: [...told.notes, ...groups.flatMap(({ shapeNote }) => shapeNote ?? [])],
  };
}

function place({
  sightings,
  freqHz,
  freqSdHz,
}: SightingGroup): Pick<ShakeSource, 'sightings' | 'freqHz' | 'freqSdHz'> {
  return { sightings, freqHz, freqSdHz };
}

function unweighed(group: SightingGroup, reason: string): ShakeSource {
  return {
    ...place(group),
    cause: 'unknown',
    probability: null,
    candidates: [],
    trueHz: group.freqHz,
    harmonic: null,
    reason,
  };
}
