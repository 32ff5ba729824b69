/**
 * Roughness in one-third-octave bands of wavelength: RMS height of one wheel track in each band, dB re 1 um, from the spectra of
 * a pass as rolled and with its joints and bumps taken out.
 *
 * Levels are of one track's heights, as EN 15610 and EN ISO 3095 mean them, with the contact of the wheel undone; but what is
 * measured is how a dolly shook, not a rail under a probe. Bands after IEC 61260-1; levels own derivation.
 */
import type { DeckChannel } from '../deck/deck-transfer.js';
import type { RolledDeck } from '../deck/rolled-deck.js';
import { CLASS_SHAPE, expectedSpectra, type ExpectedSpectra } from '../roughness/expected-spectrum.js';
import { longestWavelengthM, shortestWavelengthM } from '../roughness/observable-band.js';
import { channelSpectra, levelsOf, type FittedPass } from '../roughness/pass-fit.js';
import { railLimitDb } from './rail-limit.js';
import { bandsBetween, type WavelengthBandEdges } from './wavelength-bands-edges.js';
import { bandLevel, contactFactor, type BandLevel, type PowerFactor } from './wavelength-bands-level.js';
import { bandPower } from './wavelength-bands-power.js';

/** Fewer tapers than the fit of the level has: bands of long waves hold a few bins only. */
const BAND_TAPERS = 3;
/**
 * Of a factor; the mean of m bins has this over m. Neighbours share their data, (K + 1) / (2 K) for K tapers, and pitch and heave partly
 * show the same waves. Measured: errors spread by 0.6 to 1 of what is claimed.
 */
const VARIANCE_OF_ONE_BIN = 1;
/** Without roll, one track has up to twice the power of the mean track: the middle in ln, and its half width of a flat spread as sd. */
const WITHOUT_ROLL: PowerFactor = { factor: Math.SQRT2, sdLn: 0.2 };

/** Where the contact alone leaves more than 6 dB open, one sd of ln, the wheel may not follow the floor at all. */
const LARGEST_CONTACT_SD = Math.log(4);

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
 * and that the wheel follows, the longest waves first.
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
  const rolled = levelsIn(asRolled, expected, noiseTrust, new Map());
  const between =
    betweenJoints === null
      ? null
      : levelsIn(betweenJoints, expected, noiseTrust, binsOfLines(betweenJoints.fitted));
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

/** Reads levels off one pass; bins of `lines` are left out. */
function levelsIn(
  { deck, fitted }: DeckAndFit,
  expected: ExpectedSpectra,
  noiseTrust: number,
  lines: ReadonlyMap<DeckChannel, ReadonlySet<number>>,
): (edges: WavelengthBandEdges) => BandLevel | null {
  const { masked, phaseScale, freqHz } = fitted;
  const levels = levelsOf(fitted);
  const channels = channelSpectra(deck, BAND_TAPERS).map(({ channel, psd, noisePsd }) => {
    const level = (channel === 'roll' ? levels.differenceM3 : levels.meanTrackM3) ?? 0;
    const [floor] = expected.floors(channel, CLASS_SHAPE, [masked.fit.contactCyclesPerM], phaseScale);
    return {
      channel,
      measured: psd,
      signal: floor.map((value) => value * level),
      noise: expected.noise.map((value) => value * noisePsd),
    };
  });
  const tracks = levels.differenceM3 === null ? WITHOUT_ROLL : { factor: 1, sdLn: 0 };
  const contact = contactFactor(fitted);
  const speedMps = meanSpeedMps(deck);
  const trust = { varianceOfOneBin: VARIANCE_OF_ONE_BIN, noisePowerSd: (1 + noiseTrust) ** 2 - 1 };
  return (edges) => {
    const [fromHz, toHz] = [edges.fromCyclesPerM * speedMps, edges.toCyclesPerM * speedMps];
    const inside = [...freqHz.keys()].filter((i) => freqHz[i] >= fromHz && freqHz[i] < toHz);
    const ready = channels.map((one) => ({
      ...one,
      bins: inside.filter((i) => lines.get(one.channel)?.has(i) !== true),
    }));
    const power = bandPower(ready, edges, levels, trust);
    if (power === null) return null;
    const { factor, sdLn } = contact(1 / edges.centreM);
    if (sdLn > LARGEST_CONTACT_SD) return null;
    return bandLevel(power, { factor: factor * tracks.factor, sdLn: Math.hypot(sdLn, tracks.sdLn) });
  };
}

/**
 * Bins of the lines that chance does not explain, with the neighbours that were left out with them. The fit leaves out more, which
 * costs a level nothing; a band would lose the peaks of its floor.
 */
function binsOfLines({ masked, band, freqHz }: FittedPass): Map<DeckChannel, Set<number>> {
  const bins = new Map<DeckChannel, Set<number>>();
  for (const line of masked.lines) {
    const kept = masked.kept.get(line.channel)!;
    const leftOut = (i: number): boolean => band[i] === 1 && kept[i] === 0;
    const set = bins.get(line.channel) ?? new Set<number>();
    const at = freqHz.indexOf(line.freqHz);
    for (let i = at; leftOut(i); i++) set.add(i);
    for (let i = at - 1; leftOut(i); i--) set.add(i);
    bins.set(line.channel, set);
  }
  return bins;
}

function meanSpeedMps({ rearM, rateHz }: RolledDeck): number {
  return ((rearM[rearM.length - 1] - rearM[0]) * rateHz) / (rearM.length - 1);
}
