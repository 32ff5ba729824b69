/**
 * What a fitted pass says of the roughness of its floor: Gd(n0) in m^3 with its uncertainty, a bound, or why neither can be had.
 *
 * Own derivation; sources of the parts stand in their files.
 */
import type { Warning } from '../../run/index.js';
import { floorWarningTexts, roughnessTexts } from '../../texts/index.js';
import { fitFloor, highestRoughness } from './floor-fit.js';
import { machineAlarm } from './machine-alarm.js';
import type { MachineLine } from './machine-lines.js';
import {
  longestWavelengthM,
  noiseWavelengthM,
  shortestWavelengthM,
  type BandInputs,
} from './observable-band.js';
import type { FittedPass } from './pass-fit.js';
import { surfaceClass } from './surface-class.js';
import { fitWaviness, type WavinessFit } from './waviness.js';

/** The roughness that a pass found. */
export interface RoughnessGrade {
  /**
   * Single-track Gd(n0) in m^3 at w = 2 between joints and bumps, lines of machines left out; the upper bound when `atMost`, the lower
   * when `atLeast`.
   */
  readonly gdM3: number;
  /** The same with nothing left out; null when `atMost` for noise, or `atLeast`. */
  readonly gdAsRolledM3: number | null;
  /** Standard deviation of ln Gd, with the uncertainty of the noise. */
  readonly sdLn: number;
  /** True when only "Gd is at most gdM3" can be said. */
  readonly atMost: boolean;
  /** True when only "Gd is at least gdM3" can be said: roll alone shows the difference of the wheel tracks, and no more. */
  readonly atLeast: boolean;
  /** Exponent of the spectrum; null when the travel is too short or roll is missing. */
  readonly waviness: WavinessFit | null;
  /** Shortest and longest wavelength that the pass shows, m. */
  readonly wavelengthsM: readonly [number, number];
  /** Half-power wavenumber of the wheels' contact at the likeliest fit, cycles/m. */
  readonly contactCyclesPerM: number;
  readonly speedMps: number;
  /** Narrow lines that were left out and that chance does not explain: motors, fans, wheels. */
  readonly lines: readonly MachineLine[];
}

/** What the grade is read from. */
export interface RoughnessInput {
  /** Fitted without joints and bumps, and as rolled; the same where none were found. */
  readonly between: FittedPass;
  readonly asRolled: FittedPass;
  /** Share of the places under the axles that were freed for joints and bumps, 0..1. */
  readonly coveredShare: number;
  /** Read from the way of a lens that keeps itself level. */
  readonly levelled: boolean;
  readonly band: BandInputs;
  /** How far the stated noise is trusted, as a share of it. */
  readonly noiseTrust: number;
}

/** The grade, or null and why. */
export interface RoughnessAnswer {
  readonly grade: RoughnessGrade | null;
  /** Plain sentence for a missing grade or a bound; null otherwise. */
  readonly reason: string | null;
  readonly warnings: readonly Warning[];
}

/** Claimed sd of ln Gd against measured spread. */
const SD_FACTOR = 1.3;
/** Events take floor with them: from this covered share on, so much is added to the sd of ln Gd. */
const MUCH_COVERED = 0.05;
const COVERED_SD_LN = 0.15;
/** Lower limit of class A-3: what a lens that is carried at its height can still show. */
const LEVELLED_LOWEST_M3 = 1.25e-7;
/** Half a class: beyond it no class is named. */
const LARGEST_SD_LN = 0.7;
const ONE_SIDED_95 = 1.645;
/** Longest over shortest wavelength. */
const NARROWEST_BAND = 4;
/** Least travel for a waviness, in the longest waves that the fit takes in, those of so many hertz. */
const WAVINESS_TRAVEL = 10;
const LONGEST_FITTED_HZ = 0.8;
/** An exponent further from 2 than this, and than two of its sd, is worth a word. */
const WAVINESS_TOLERANCE = 0.25;

/** The grade of a pass. */
export function gradeRoughness(input: RoughnessInput): RoughnessAnswer {
  const { between, band } = input;
  const { masked, settings } = between;
  const shiftLn = contactShiftLn(input);
  const sdLn = totalSd(input, shiftLn);
  const shared = {
    sdLn,
    contactCyclesPerM: masked.fit.contactCyclesPerM,
    speedMps: band.speedMps,
    lines: masked.lines,
    waviness: null,
    atMost: false,
    atLeast: false,
  };
  if (masked.fit.meanTrackM3 === null) return atLeast(input, shared);
  if (sdLn > LARGEST_SD_LN) return drowned(input, shared);
  const surelyM = shortestWavelengthM(band, masked.fit.hardestContactCyclesPerM);
  if (longestFittedM(band) < NARROWEST_BAND * surelyM)
    return { grade: null, reason: narrowBand(band, surelyM), warnings: [] };

  const found = {
    ...shared,
    wavelengthsM: observedWavelengths(between, band),
    gdAsRolledM3: asRolled(input.asRolled),
  };
  const betweenM3 = masked.fit.gdM3 * Math.exp(shiftLn / 2);
  const boundM3 = betweenM3 * Math.exp(ONE_SIDED_95 * sdLn);
  const atMost = (gdM3: number, why: string, then = ''): RoughnessAnswer => ({
    grade: { ...found, gdM3, atMost: true },
    reason: `${why} ${atMostClass(gdM3)}${then}`,
    warnings: [],
  });
  const alarm = machineAlarm(between);
  if (alarm !== null) return atMost(boundM3, alarm);
  if (input.levelled && betweenM3 < LEVELLED_LOWEST_M3) {
    return atMost(
      Math.max(LEVELLED_LOWEST_M3, boundM3),
      roughnessTexts.levelled,
      ` ${roughnessTexts.lockTheHead}`,
    );
  }
  const travelM = (band.speedMps * settings.frameCount) / settings.rateHz;
  const waviness =
    travelM < WAVINESS_TRAVEL * longestFittedM(band)
      ? null
      : fitWaviness(settings, between.expected, between.channels, masked, between.phaseScale);
  return {
    grade: { ...found, gdM3: betweenM3, waviness },
    reason: null,
    warnings: wavinessWarning(waviness),
  };
}

type Shared = Omit<RoughnessGrade, 'gdM3' | 'gdAsRolledM3' | 'wavelengthsM'>;

/** Every bin counts, lines of machines and joints, too. */
function asRolled({ channels, table, band }: FittedPass): number {
  return fitFloor(channels, table, new Map(channels.map(({ channel }) => [channel, band]))).gdM3;
}

function drowned({ between, band, noiseTrust }: RoughnessInput, shared: Shared): RoughnessAnswer {
  const { channels, table, masked } = between;
  const gdM3 = highestRoughness(channels, table, masked.kept, 1 / (1 + noiseTrust) ** 2);
  // What drowns in noise says nothing of the contact either: the bound holds for all that speed and shutter let through.
  const wavelengthsM = [shortestWavelengthM(band, Infinity), longestWavelengthM(band)] as const;
  return {
    grade: { ...shared, wavelengthsM, gdM3, gdAsRolledM3: null, atMost: true },
    reason: `${roughnessTexts.drowned} ${atMostClass(gdM3)} ${roughnessTexts.goFaster}`,
    warnings: [],
  };
}

/** What roll alone says: the difference of the wheel tracks is a quarter of it or more, and the mean track stays unknown. */
function atLeast({ between, band }: RoughnessInput, shared: Shared): RoughnessAnswer {
  if (shared.sdLn > LARGEST_SD_LN || machineAlarm(between) !== null) {
    return {
      grade: null,
      reason: roughnessTexts.rollInNoise,
      warnings: [],
    };
  }
  const gdM3 = between.masked.fit.gdM3 * Math.exp(-ONE_SIDED_95 * shared.sdLn);
  const wavelengthsM = observedWavelengths(between, band);
  return {
    grade: { ...shared, wavelengthsM, gdM3, gdAsRolledM3: null, atLeast: true },
    reason: roughnessTexts.atLeast(surfaceClass(gdM3).name),
    warnings: [],
  };
}

function atMostClass(gdM3: number): string {
  return roughnessTexts.atMost(surfaceClass(gdM3).name);
}

function narrowBand(band: BandInputs, shortestM: number): string {
  const millimetres = (metres: number): string => (1000 * metres).toFixed(0);
  return roughnessTexts.narrowBand(
    band.speedMps.toFixed(3),
    millimetres(shortestM),
    millimetres(longestFittedM(band)),
  );
}

/** Longest wavelength that the fit takes in, m: slower waves show in the profile, but the level is read without them. */
function longestFittedM(band: BandInputs): number {
  return Math.min(longestWavelengthM(band), band.speedMps / LONGEST_FITTED_HZ);
}

/** Sd of ln Gd: likelihood and contact, tracks unlike each other, the noise being other than stated, floor that left with the joints. */
function totalSd({ between, coveredShare, noiseTrust }: RoughnessInput, shiftLn: number): number {
  const { channels, table, masked } = between;
  const { fit, kept } = masked;
  const withNoise = (factor: number): number =>
    Math.log(fitFloor(channels, table, kept, { noiseScale: factor ** 2 }).gdM3);
  // The larger side: more noise can also raise a smooth floor, as the contact makes room for it, and half of the difference cancels.
  const asStated = Math.log(fit.gdM3);
  const shifts = [1 / (1 + noiseTrust), 1 + noiseTrust].map((factor) =>
    Math.abs(withNoise(factor) - asStated),
  );
  const noiseSd = Math.max(...shifts);
  const coveredSd = coveredShare > MUCH_COVERED ? COVERED_SD_LN : 0;
  const contactSd = Math.abs(shiftLn) / 2;
  return Math.hypot(SD_FACTOR * fit.sdLn, fit.coherenceSdLn, noiseSd, coveredSd, contactSd);
}

/**
 * What ln Gd between joints changes by when the contact that shows in the pass as rolled counts as well; half of it is taken.
 *
 * Joints and floor are seen through the same wheels. But where joints lay, the floor is patched, and patches are sharper than a soft
 * tyre lets a floor be (own trials on soft tyres: 0.35 to 1 of the true Gd without, 0.8 to 2.2 with it, 0.6 to 1.7 half-way).
 */
function contactShiftLn({ between, asRolled, coveredShare }: RoughnessInput): number {
  if (coveredShare === 0) return 0;
  const { channels, table, masked } = between;
  const { contactCosts, cost } = asRolled.masked.fit;
  const known = { contactCosts: contactCosts.map((of) => of - cost) };
  return Math.log(fitFloor(channels, table, masked.kept, known).gdM3 / masked.fit.gdM3);
}

function observedWavelengths(fitted: FittedPass, band: BandInputs): [number, number] {
  const { fit } = fitted.masked;
  const shortestM = shortestWavelengthM(band, fit.contactCyclesPerM);
  const drownedM = noiseWavelengthM(band, fitted.settings.dolly, { ...fitted, ...fit });
  const longestM = longestWavelengthM(band);
  return [Math.min(longestM, Math.max(shortestM, drownedM)), longestM];
}

function wavinessWarning(fit: WavinessFit | null): Warning[] {
  if (fit === null) return [];
  const off = Math.abs(fit.waviness - 2);
  if (off <= WAVINESS_TOLERANCE || off <= 2 * fit.sd) return [];
  return [
    {
      code: 'waviness-not-2',
      text: floorWarningTexts.wavinessNot2(fit.waviness.toFixed(1)),
      atS: null,
    },
  ];
}
