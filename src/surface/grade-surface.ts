/**
 * The roughness of the floor under a test pass, from the vibration of the camera and the measures of the dolly: Gd(n0) in m^3 with
 * its uncertainty, in the band of wavelengths that the pass can show.
 *
 * Spectra by sine tapers, a model of deck, shutter and noise smeared like the spectra, and a likelihood fit of its level at w = 2,
 * with narrow lines of machines left out. Own derivation; sources of the parts stand in their files.
 */
import type { Motion } from '../motion/index.js';
import type { Rig, Warning } from '../run/index.js';
import { fitFloor, highestRoughness } from './roughness/floor-fit.js';
import { machineAlarm } from './roughness/machine-alarm.js';
import {
  longestWavelengthM,
  noiseWavelengthM,
  shortestWavelengthM,
  type BandInputs,
} from './roughness/observable-band.js';
import { fitPass, type FittedPass } from './roughness/pass-fit.js';
import type { Mounting } from './deck/deck-series.js';
import { readPass, type Pass } from './deck/pass.js';
import { rolledDeck } from './deck/rolled-deck.js';
import { surfaceClass } from './roughness/surface-class.js';
import type { Surface, SurfaceGrade, SurfaceOptions } from './types.js';
import { fitWaviness } from './roughness/waviness.js';

/** Claimed sd of ln Gd against measured spread. */
const SD_FACTOR = 1.3;
/** How far the stated noise is trusted, as a share of it. */
const NOISE_TRUST = 0.3;
const NOISE_TRUST_INTER_CODED = 0.5;
/** Lower limit of class A-3: what a lens that is carried at its height can still show. */
const LEVELLED_LOWEST_M3 = 1.25e-7;
/** Half a class: beyond it no class is named. */
const LARGEST_SD_LN = 0.7;
const ONE_SIDED_95 = 1.645;

const FEWEST_FRAMES = 8;
/** Longest over shortest wavelength. */
const NARROWEST_BAND = 4;
/** Least travel: two wheelbases and so many of the shortest wavelengths; and for a waviness, so many of the longest. */
const WHEELBASES_TRAVEL = 2;
const SHORT_WAVES_TRAVEL = 5;
const WAVINESS_TRAVEL = 10;
/** An exponent further from 2 than this, and than two of its sd, is worth a word. */
const WAVINESS_TOLERANCE = 0.25;
/** A wheelbase phase further off is worth a word. */
const PHASE_TOLERANCE = 0.015;

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
  const because = (reason: string | null): Surface => ({ grade: null, reason, assumed, warnings });
  if (pass === null) return because(refusal);
  const band = bandInputs(pass, motion);
  const tooShort = shortPass(pass, band);
  if (tooShort !== null) return because(tooShort);

  const fitted = fitPass(rolledDeck(pass, motion));
  notePhase(fitted, warnings);
  return { ...judgeFit(fitted, pass.mounting, band, options, warnings), assumed, warnings };
}

function bandInputs(pass: Pass, motion: Motion): BandInputs {
  return {
    speedMps: pass.travel.speedMps,
    rateHz: motion.rateHz,
    exposureS: pass.exposureS,
    cutoffHz: motion.bandHz[0],
  };
}

/** Refuses passes too short to fit, whatever the floor. */
function shortPass(pass: Pass, band: BandInputs): string | null {
  const frames = pass.travel.toFrame - pass.travel.fromFrame;
  const travelM = (band.speedMps * frames) / band.rateHz;
  const neededM =
    WHEELBASES_TRAVEL * pass.dolly.wheelbaseM + SHORT_WAVES_TRAVEL * shortestWavelengthM(band, Infinity);
  if (frames >= FEWEST_FRAMES && travelM >= neededM) return null;
  return `Roll a longer pass: the dolly moved ${travelM.toFixed(2)} m and a grade of the floor needs at least ${neededM.toFixed(2)} m (two wheelbases and a little more).`;
}

function narrowBand(band: BandInputs, shortestM: number): string {
  const millimetres = (metres: number): string => (1000 * metres).toFixed(0);
  return `Go faster: at ${band.speedMps.toFixed(3)} m/s the clip shows only wavelengths from ${millimetres(shortestM)} to ${millimetres(longestWavelengthM(band))} mm, too narrow a band for a grade.`;
}

/** The grade, or the bound and why no more can be said, from a floor that was fitted. */
function judgeFit(
  fitted: FittedPass,
  mounting: Mounting,
  band: BandInputs,
  options: SurfaceOptions,
  warnings: Warning[],
): Pick<Surface, 'grade' | 'reason'> {
  const { channels, table, masked, settings } = fitted;
  const trust = options.interCoded === false ? NOISE_TRUST : NOISE_TRUST_INTER_CODED;
  const sdLn = totalSd(fitted, trust);
  const longestM = longestWavelengthM(band);
  const contact = masked.fit.contactCyclesPerM;
  const shared = {
    sdLn,
    contactCyclesPerM: contact,
    speedMps: band.speedMps,
    lines: masked.lines,
    waviness: null,
    atLeast: false,
  };
  if (masked.fit.meanTrackM3 === null) return atLeast(fitted, band, shared);
  if (sdLn > LARGEST_SD_LN) {
    const gdM3 = highestRoughness(channels, table, masked.kept, 1 / (1 + trust) ** 2);
    // What drowns in noise says nothing of the contact either: the bound holds for all that speed and shutter let through.
    const wavelengthsM = [shortestWavelengthM(band, Infinity), longestM] as const;
    return {
      grade: { ...shared, wavelengthsM, gdM3, gdAsRolledM3: null, atMost: true },
      reason: `The shake of this pass hardly rises above the noise of the measurement. ${atMostClass(gdM3)} Go faster, or use a longer lens, for a class.`,
    };
  }
  const surelyM = shortestWavelengthM(band, masked.fit.hardestContactCyclesPerM);
  if (longestM < NARROWEST_BAND * surelyM) return { grade: null, reason: narrowBand(band, surelyM) };
  const wavelengthsM = observedWavelengths(fitted, band, shortestWavelengthM(band, contact));

  const everything = new Map(channels.map(({ channel }) => [channel, fitted.band]));
  const gdAsRolledM3 = fitFloor(channels, table, everything).gdM3;
  const alarm = machineAlarm(fitted);
  if (alarm !== null) {
    const gdM3 = masked.fit.gdM3 * Math.exp(ONE_SIDED_95 * sdLn);
    return {
      grade: { ...shared, wavelengthsM, gdM3, gdAsRolledM3, atMost: true },
      reason: `${alarm} ${atMostClass(gdM3)}`,
    };
  }
  if (mounting.levellingHeightM !== null && masked.fit.gdM3 < LEVELLED_LOWEST_M3) {
    const gdM3 = Math.max(LEVELLED_LOWEST_M3, masked.fit.gdM3 * Math.exp(ONE_SIDED_95 * sdLn));
    return {
      grade: { ...shared, wavelengthsM, gdM3, gdAsRolledM3, atMost: true },
      reason: `Read from the way of a lens that levels itself, a floor as smooth as this one can only be bounded. ${atMostClass(gdM3)} Lock the head for a class.`,
    };
  }
  const travelM = (band.speedMps * settings.frameCount) / settings.rateHz;
  const enough = travelM >= WAVINESS_TRAVEL * longestM;
  const waviness = enough
    ? fitWaviness(settings, fitted.expected, channels, masked.kept, fitted.phaseScale)
    : null;
  if (waviness !== null) noteWaviness(waviness.waviness, waviness.sd, warnings);
  return {
    grade: { ...shared, wavelengthsM, gdM3: masked.fit.gdM3, gdAsRolledM3, atMost: false, waviness },
    reason: null,
  };
}

/** What roll alone says: the difference of the wheel tracks is a quarter of it or more, and the mean track stays unknown. */
function atLeast(
  fitted: FittedPass,
  band: BandInputs,
  shared: Omit<SurfaceGrade, 'gdM3' | 'gdAsRolledM3' | 'wavelengthsM' | 'atMost'>,
): Pick<Surface, 'grade' | 'reason'> {
  const { masked } = fitted;
  if (shared.sdLn > LARGEST_SD_LN || machineAlarm(fitted) !== null) {
    return {
      grade: null,
      reason:
        'Only the roll of the deck shows in this pass, and it does not stand out of noise and machines: lock the head for a grade of the floor.',
    };
  }
  const wavelengthsM = observedWavelengths(fitted, band, shortestWavelengthM(band, shared.contactCyclesPerM));
  const gdM3 = masked.fit.gdM3 * Math.exp(-ONE_SIDED_95 * shared.sdLn);
  return {
    grade: { ...shared, wavelengthsM, gdM3, gdAsRolledM3: null, atMost: false, atLeast: true },
    reason: `Only the roll of the deck shows in this pass, so only how unlike the two wheel tracks are: the floor is class ${surfaceClass(gdM3).name} or rougher (ISO 8608-style). Lock the head for a class.`,
  };
}

function atMostClass(gdM3: number): string {
  return `The floor is class ${surfaceClass(gdM3).name} or smoother (ISO 8608-style).`;
}

/** Sd of ln Gd: likelihood and contact, tracks unlike each other, and the noise being other than stated. */
function totalSd({ channels, table, masked }: FittedPass, trust: number): number {
  const { fit, kept } = masked;
  const withNoise = (factor: number): number => Math.log(fitFloor(channels, table, kept, factor ** 2).gdM3);
  const noiseSd = Math.abs(withNoise(1 / (1 + trust)) - withNoise(1 + trust)) / 2;
  return Math.hypot(SD_FACTOR * fit.sdLn, fit.coherenceSdLn, noiseSd);
}

function observedWavelengths(fitted: FittedPass, band: BandInputs, shortestM: number): [number, number] {
  const drownedM = noiseWavelengthM(band, fitted.settings.dolly, { ...fitted, ...fitted.masked.fit });
  const longestM = longestWavelengthM(band);
  return [Math.min(longestM, Math.max(shortestM, drownedM)), longestM];
}

function notePhase({ phaseScale }: FittedPass, warnings: Warning[]): void {
  const off = phaseScale - 1;
  if (Math.abs(off) <= PHASE_TOLERANCE) return;
  warnings.push({
    code: 'wheelbase-or-speed-off',
    text: `Wheelbase over speed fits the clip better when it is ${(100 * Math.abs(off)).toFixed(1)} % ${off > 0 ? 'larger' : 'smaller'}: measure the wheelbase and the travel again.`,
    atS: null,
  });
}

function noteWaviness(value: number, sd: number, warnings: Warning[]): void {
  const off = Math.abs(value - 2);
  if (off <= WAVINESS_TOLERANCE || off <= 2 * sd) return;
  warnings.push({
    code: 'waviness-not-2',
    text: `The spectrum of this floor falls with the exponent ${value.toFixed(1)} and not 2: the class holds for the wavelengths shown only.`,
    atS: null,
  });
}
