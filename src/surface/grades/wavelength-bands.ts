/**
 * Roughness in one-third-octave bands of wavelength: RMS height of one wheel track in each band, dB re 1 um, from the spectra of
 * a pass as rolled and with its joints and bumps taken out.
 *
 * Levels are of one track's heights, as EN 15610 and EN ISO 3095 mean them, with the contact of the wheel undone; but what is
 * measured is how a dolly shook, not a rail under a probe. Bands after IEC 61260-1; levels own derivation.
 */
import type { RolledDeck } from '../deck/rolled-deck.js';
import { contactPowerGain } from '../deck/deck-transfer.js';
import { CLASS_SHAPE, expectedSpectra, type ExpectedSpectra } from '../roughness/expected-spectrum.js';
import { CONTACT_TRIES, fitFloor, weightedMoments, type KeptBins } from '../roughness/floor-fit.js';
import { longestWavelengthM, shortestWavelengthM } from '../roughness/observable-band.js';
import { channelSpectra, levelsOf, type FittedPass } from '../roughness/pass-fit.js';
import { railLimitDb } from './rail-limit.js';
import { bandsBetween, type WavelengthBandEdges } from './wavelength-bands-edges.js';
import { bandPower, type BandPower, type ExplainedChannel } from './wavelength-bands-power.js';

/** Fewer tapers than the fit of the level has: bands of long waves hold a few bins only. */
const BAND_TAPERS = 3;
const FEWEST_BINS = 2;
/** 1 um, squared: the reference of the levels. */
const REFERENCE_M2 = 1e-12;
/** dB of one e-fold of power. */
const DB_PER_LN = 10 / Math.LN10;
/** A level known worse than this, one sd, is only a bound. */
const LARGEST_SD_DB = 3;
/**
 * Variance of a factor of one bin: neighbours share their data, so that the mean of m bins has this over m.
 */
const VARIANCE_OF_ONE_BIN = (BAND_TAPERS + 1) / (2 * BAND_TAPERS);
/** Without roll, one track has up to twice the power of the mean track: the middle in ln, and its half width as sd. */
const WITHOUT_ROLL = Math.SQRT2;
const WITHOUT_ROLL_SD = 0.2;

/** A pass with the floor that was fitted to it. */
export interface DeckAndFit {
  readonly deck: RolledDeck;
  readonly fitted: FittedPass;
}

/** What the bands are read from. */
export interface WavelengthBandsInput {
  readonly asRolled: DeckAndFit;
  /** The same pass after the heights of its joints and bumps were taken out and it was fitted again; null when there are none. */
  readonly betweenJoints: DeckAndFit | null;
  /** How far the stated noise is trusted, as a share of its standard deviation. */
  readonly noiseTrust: number;
}

/** One band, a level for one wheel track in dB re 1 um. */
export interface WavelengthBand {
  /** Exact centre and rounded name, m. */
  readonly centreM: number;
  readonly nominalM: number;
  /** With everything that the pass rolled over, machines included; when `below`, what it is below. */
  readonly asRolledDb: number;
  /** Without joints, bumps and the lines of machines; null when none were taken out or it is not known to 3 dB. */
  readonly betweenJointsDb: number | null;
  /** Standard deviation of the level as rolled, dB; of a bound only that it is above 3. */
  readonly sdDb: number;
  /** The level is an upper bound of 2 sd: what is in the band drowns in noise, or the wheel hardly follows it. */
  readonly below: boolean;
  /** Limit of EN ISO 3095:2013 in the same band; null where it prints none. */
  readonly railLimitDb: number | null;
}

/**
 * Levels in all bands that lie wholly inside what the pass shows, v / cut-off down to two frames' way or the blur of the shutter,
 * the longest waves first.
 *
 * @param input not changed
 * @returns none for a pass without pitch and heave: roll alone does not show a track
 */
export function wavelengthBands({
  asRolled,
  betweenJoints,
  noiseTrust,
}: WavelengthBandsInput): WavelengthBand[] {
  if (asRolled.fitted.masked.fit.meanTrackM3 === null) return [];
  const { settings } = asRolled.fitted;
  const speedMps = meanSpeedMps(asRolled.deck);
  const shown = { ...settings, speedMps };
  const expected = expectedSpectra(settings, BAND_TAPERS);
  const rolled = levelsIn(asRolled, expected, noiseTrust, null);
  const between =
    betweenJoints === null
      ? null
      : levelsIn(betweenJoints, expected, noiseTrust, betweenJoints.fitted.masked.kept);
  return bandsBetween(shortestWavelengthM(shown, Infinity), longestWavelengthM(shown)).flatMap((edges) => {
    const level = rolled(edges);
    if (level === null) return [];
    const cleaned = between?.(edges) ?? null;
    return {
      centreM: edges.centreM,
      nominalM: edges.nominalM,
      asRolledDb: level.db,
      betweenJointsDb: cleaned === null || cleaned.below ? null : cleaned.db,
      sdDb: level.sdDb,
      below: level.below,
      railLimitDb: railLimitDb(edges.index),
    };
  });
}

interface BandLevel {
  readonly db: number;
  readonly sdDb: number;
  readonly below: boolean;
}

/** Reads levels off one pass; `kept` leaves bins out. */
function levelsIn(
  { deck, fitted }: DeckAndFit,
  expected: ExpectedSpectra,
  noiseTrust: number,
  kept: KeptBins | null,
): (edges: WavelengthBandEdges) => BandLevel | null {
  const { masked, phaseScale, freqHz, band } = fitted;
  const levels = levelsOf(fitted);
  const contact = masked.fit.contactCyclesPerM;
  const channels = channelSpectra(deck, BAND_TAPERS).map(({ channel, psd, noisePsd }): ExplainedChannel => {
    const level = (channel === 'roll' ? levels.differenceM3 : levels.meanTrackM3) ?? 0;
    const [floor] = expected.floors(channel, CLASS_SHAPE, [contact], phaseScale);
    return {
      channel,
      measured: psd,
      signal: floor.map((value) => value * level),
      noise: expected.noise.map((value) => value * noisePsd),
    };
  });
  const withoutRoll = levels.differenceM3 === null;
  const contactOf = contactSpread(fitted);
  const speedMps = meanSpeedMps(deck);
  const trust = { varianceOfOneBin: VARIANCE_OF_ONE_BIN, noisePowerSd: 2 * noiseTrust };
  return (edges) => {
    const inside: number[] = [];
    freqHz.forEach((f, i) => {
      if (f >= edges.fromCyclesPerM * speedMps && f < edges.toCyclesPerM * speedMps) inside.push(i);
    });
    // A mask speaks of the band of the fit only; the longest waves lie below it.
    const binsOf = new Map(
      channels.map(({ channel }) => {
        const mask = kept?.get(channel);
        return [channel, inside.filter((i) => mask === undefined || band[i] === 0 || mask[i] === 1)];
      }),
    );
    if ([...binsOf.values()].some((bins) => bins.length < FEWEST_BINS)) return null;
    const power = bandPower(channels, (channel) => binsOf.get(channel)!, edges, levels, trust);
    if (power === null) return null;
    const spread = contactOf(1 / edges.centreM);
    const factor = spread.factor * (withoutRoll ? WITHOUT_ROLL : 1);
    return levelOfPower(power, factor, Math.hypot(spread.sdLn, withoutRoll ? WITHOUT_ROLL_SD : 0));
  };
}

/** The level of a power, or the bound on it where it is not known well. */
function levelOfPower(
  { powerM2, sdM2, noiseSdM2, floorSdM2 }: BandPower,
  factor: number,
  factorSdLn: number,
): BandLevel {
  const decibels = (m2: number): number => 10 * Math.log10((factor * m2) / REFERENCE_M2);
  const seenM2 = Math.max(powerM2, sdM2);
  const sdDb = DB_PER_LN * Math.hypot(sdM2 / seenM2, factorSdLn);
  if (sdDb <= LARGEST_SD_DB) return { db: decibels(powerM2), sdDb, below: false };
  // Noise adds to the power; few bins and the contact multiply it.
  const bound = seenBound(powerM2, noiseSdM2) * Math.exp(2 * Math.hypot(floorSdM2 / seenM2, factorSdLn));
  return { db: decibels(bound), sdDb, below: true };
}

function seenBound(powerM2: number, noiseSdM2: number): number {
  return Math.max(0, powerM2) + 2 * noiseSdM2;
}

/**
 * What the contact that was fitted leaves open: the factor from the likeliest contact's power to the mean over all contacts, and
 * the sd of its logarithm, at a wavenumber.
 */
function contactSpread({
  channels,
  table,
  masked,
}: FittedPass): (cyclesPerM: number) => { factor: number; sdLn: number } {
  const costs = table.floors.map(
    (floor) => fitFloor(channels, { ...table, floors: [floor] }, masked.kept).cost,
  );
  return (cyclesPerM) => {
    const lost = CONTACT_TRIES.map((contact) => -Math.log(contactPowerGain(cyclesPerM, contact)));
    const { mean, sd } = weightedMoments(
      costs,
      lost,
      lost.map(() => 0),
    );
    const likeliest = -Math.log(contactPowerGain(cyclesPerM, masked.fit.contactCyclesPerM));
    return { factor: Math.exp(mean - likeliest), sdLn: sd };
  };
}

function meanSpeedMps({ rearM, rateHz }: RolledDeck): number {
  return ((rearM[rearM.length - 1] - rearM[0]) * rateHz) / (rearM.length - 1);
}
