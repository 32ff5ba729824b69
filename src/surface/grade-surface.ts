/**
 * The floor under a test pass, from the vibration of the camera and the measures of the dolly: roughness between joints and as
 * rolled, profile, joints and bumps with their places, grades. Metres, m^3.
 *
 * Camera -> deck -> spectra and a first fit -> joints and bumps, taken out and fitted again -> everything that is read from both.
 */
import type { Motion } from '../motion/index.js';
import type { Rig, Warning } from '../run/index.js';
import { floorRefusalTexts, floorWarningTexts } from '../texts/index.js';
import { readPass, type Pass } from './deck/pass.js';
import { rolledDeck, withPhase, type RolledDeck } from './deck/rolled-deck.js';
import { findEvents, type FoundEvents } from './events/find-events.js';
import { axleDistanceScale } from './profile/axle-distance.js';
import { shortestWavelengthM, type BandInputs } from './roughness/observable-band.js';
import { machineAlarm } from './roughness/machine-alarm.js';
import { machineShakeRad, withNoiseOf, withShakeAsNoise } from './roughness/machine-shake.js';
import { withTones, withoutTones, type QuietDeck } from './roughness/machine-tones.js';
import { fitPass, levelsOf, refitPass, refitWithLessNoise, type FittedPass } from './roughness/pass-fit.js';
import { gradeRoughness } from './roughness/roughness-grade.js';
import { distanceRange, scaleWarnings } from './distance-scale.js';
import { surfaceDetail } from './surface-detail.js';
import type { Surface, SurfaceOptions } from './types.js';

/** How far the stated noise is trusted, as a share of it. */
const NOISE_TRUST = 0.3;
const NOISE_TRUST_INTER_CODED = 0.5;
const FEWEST_FRAMES = 8;
/** Least travel: two wheelbases and so many of the shortest wavelengths. */
const WHEELBASES_TRAVEL = 2;
const SHORT_WAVES_TRAVEL = 5;
/** A wheelbase phase further off is worth a word. */
const PHASE_TOLERANCE = 0.015;

const NOTHING_FORETOLD: Warning = {
  code: 'lay-over-unused',
  text: floorWarningTexts.nothingForetold,
  atS: null,
};

/**
 * Grades the floor of a pass.
 *
 * A floor that cannot be seen is no error: `grade` is null with a reason that names the input to give, or says "at most".
 *
 * @param motion as split from the clip; not changed
 * @param rig wheelbase and speed or travel are needed; track width, lens azimuth, camera offset and shutter sharpen the answer
 */
export function gradeSurface(motion: Motion, rig: Rig, options: SurfaceOptions = {}): Surface {
  const { pass, refusal, assumed, warnings } = readPass(motion, rig);
  const because = (reason: string | null): Surface => {
    if (options.otherSurfaces?.length) warnings.push(NOTHING_FORETOLD);
    return { grade: null, detail: null, pass, reason, assumed, warnings };
  };
  if (pass === null) return because(refusal);
  const band = bandInputs(pass, motion);
  const tooShort = shortPass(pass, band);
  if (tooShort !== null) return because(tooShort);

  const asGiven = rolledDeck(pass, motion);
  const first = fitPass(asGiven);
  const phaseScale = first.phaseScale * distanceScale(withPhase(asGiven, first.phaseScale), first);
  const deck = withPhase(asGiven, phaseScale);
  // A hum would look like a joint at each of its periods; for the fit between joints it comes back, to be left out bin by bin.
  const quiet = withoutTones(deck, first);
  const { events, cleaned, between, searched } = betweenEvents(deck, quiet, first, rig);

  const noiseTrust = options.interCoded === false ? NOISE_TRUST : NOISE_TRUST_INTER_CODED;
  const {
    grade,
    reason,
    warnings: noted,
  } = gradeRoughness({
    between,
    asRolled: first,
    coveredShare: events.coveredShare,
    levelled: pass.mounting.levellingHeightM !== null,
    band,
    noiseTrust,
  });
  warnings.push(...phaseWarning(phaseScale), ...noted);
  if (grade === null) return because(reason);
  const range = distanceRange(rig);
  warnings.push(...scaleWarnings(events.row, rig));
  const detail = surfaceDetail(
    {
      motion,
      rig,
      pass,
      deck,
      quiet: searched,
      asRolled: first,
      cleaned,
      between,
      events,
      grade,
      noiseTrust,
      distanceRange: range,
    },
    options,
  );
  return { grade, detail, pass, reason, assumed, warnings };
}

/** The pass without its joints and bumps, and the deck that they were looked for in. */
interface BetweenEvents {
  readonly events: FoundEvents;
  readonly cleaned: RolledDeck;
  readonly between: FittedPass;
  readonly searched: RolledDeck;
}

/**
 * Looks for joints and bumps and fits the floor between them. Where a machine shakes the deck at all frequencies, each of its jerks
 * would be a bump: then its shake counts as noise and they are looked for again. The fit stays with the noise as stated, as the bound
 * of such a floor.
 */
function betweenEvents(deck: RolledDeck, quiet: QuietDeck, first: FittedPass, rig: Rig): BetweenEvents {
  const look = (searched: RolledDeck, fitted: FittedPass): BetweenEvents => {
    const events = findEvents(searched, fitted, { givenSpacingM: rig.jointSpacingM ?? null });
    const cleaned = withNoiseOf(withTones(events.cleaned, quiet), deck);
    return { events, cleaned, between: refitWithLessNoise(first, cleaned), searched };
  };
  const looked = look(quiet.deck, first);
  if (machineAlarm(looked.between) === null) return looked;
  const shakeRad = Math.max(machineShakeRad(first), machineShakeRad(looked.between));
  // Less than the noise of the measurement fills no list.
  if (shakeRad < (quiet.deck.pitchRad?.noiseSd ?? Infinity)) return looked;
  const shaken = withShakeAsNoise(quiet.deck, shakeRad);
  return look(shaken, refitPass(first, shaken));
}

function bandInputs({ travel, exposureS, cutoffHz }: Pass, { rateHz }: Motion): BandInputs {
  return { speedMps: travel.speedMps, rateHz, exposureS, cutoffHz };
}

/** Refuses passes too short to fit, whatever the floor. */
function shortPass(pass: Pass, band: BandInputs): string | null {
  const frames = pass.travel.toFrame - pass.travel.fromFrame;
  const travelM = (band.speedMps * frames) / band.rateHz;
  const neededM =
    WHEELBASES_TRAVEL * pass.dolly.wheelbaseM + SHORT_WAVES_TRAVEL * shortestWavelengthM(band, Infinity);
  if (frames >= FEWEST_FRAMES && travelM >= neededM) return null;
  return floorRefusalTexts.tooShort(travelM.toFixed(2), neededM.toFixed(2));
}

/** What the joints themselves say of the distance between the axles, finer than the notches of the spectra do; 1 without pitch. */
function distanceScale(deck: RolledDeck, first: FittedPass): number {
  const { meanTrackM3 } = levelsOf(first);
  if (deck.pitchRad === null || meanTrackM3 === null || meanTrackM3 <= 0) return 1;
  return axleDistanceScale(deck, meanTrackM3);
}

function phaseWarning(phaseScale: number): Warning[] {
  const off = phaseScale - 1;
  if (Math.abs(off) <= PHASE_TOLERANCE) return [];
  return [
    {
      code: 'wheelbase-or-speed-off',
      text: floorWarningTexts.wheelbaseOrSpeedOff(
        (100 * Math.abs(off)).toFixed(1),
        off > 0 ? 'larger' : 'smaller',
      ),
      atS: null,
    },
  ];
}
