/**
 * Roughness of a floor from the spectra of deck pitch, heave and roll: single-track Gd(n0) in m^3 at w = 2, and its uncertainty.
 *
 * Pitch and heave see m, the mean of both wheel tracks; roll sees d, their difference. The mean power of the two tracks is
 * m^2 + d^2 / 4 exactly, so G = G_m + G_d / 4. How much of a short wave the wheel still follows is not known: the contact's
 * half-power wavenumber is averaged over, weighted by likelihood. Own derivation.
 */
import { CLASS_SHAPE, type ExpectedSpectra, type FloorShape } from './expected-spectrum.js';
import type { DeckChannel } from '../deck/deck-transfer.js';
import { fitLevel, highestLevel, type FitChannel, type LevelFit } from './level-fit.js';

/** Measured multitaper spectrum of one deck channel. */
export interface ChannelSpectrum {
  readonly channel: DeckChannel;
  /** (Unit)^2 / Hz, one per bin. */
  readonly psd: Float64Array;
  /** Density of the white noise before the high-pass, (unit)^2 / Hz. */
  readonly noisePsd: number;
  /** The part of it that is noise for sure: the rest may be movement that coding took away. Same unit. */
  readonly leastNoisePsd: number;
}

/** Bins that count, one column per channel: 1 keep, 0 leave out. */
export type KeptBins = ReadonlyMap<DeckChannel, Uint8Array>;

/** Half-power wavenumbers of the contact that are tried, cycles/m: from a soft tyre to harder than any wheel. */
export const CONTACT_TRIES: readonly number[] = logSteps(4, 250, 29);

/**
 * Noise over stated noise that may be tried: what tracks share can be less than stated. Half a normal distribution of its ln with this
 * sd stands against it (own trials on coded clips: deck series hold 0.45 to 1.1 of the stated noise).
 */
const LESS_NOISE: readonly number[] = [0.84, 0.71, 0.59, 0.5, 0.42, 0.35];
const NOISE_SD_LN = 0.5;

/** When only one of the two tracks' sums is known, G lies in [G_m, 2 G_m]; the middle in ln, and its half width as sd. */
const ONE_SIDED_FACTOR = Math.SQRT2;
const ONE_SIDED_SD = 0.2;

/** Rise of the negative log likelihood at a one-sided 95 % bound: 1.645^2 / 2. */
const ONE_SIDED_RISE = 1.353;

/** Rise within which a contact is still allowed: 2 standard deviations. */
const ALLOWED_RISE = 2;

/** A floor fitted to all channels. */
export interface FloorFit {
  /** Single-track Gd(n0), m^3, w = 2; from roll alone the part G_d / 4 of it, which it cannot be below. */
  readonly gdM3: number;
  /** Of ln Gd, from the likelihood and the unknown contact. */
  readonly sdLn: number;
  /** Added when roll was not there to say how alike the tracks are; 0 with roll. */
  readonly coherenceSdLn: number;
  /** Level of the mean track and of the difference of the tracks, m^3, at the likeliest contact; null when not fitted. */
  readonly meanTrackM3: number | null;
  readonly differenceM3: number | null;
  readonly contactCyclesPerM: number;
  /** The hardest contact that the spectra still allow, cycles/m. */
  readonly hardestContactCyclesPerM: number;
  /** Noise over stated noise at the likeliest fit, down to the part of it that is noise for sure. */
  readonly noiseFactor: number;
  /** Negative log likelihood of the likeliest fit, and of the likeliest with each contact. */
  readonly cost: number;
  readonly contactCosts: readonly number[];
}

/** The spectra expected of every contact that is tried: made once for a pass, used by every fit. */
export interface ContactTable {
  readonly floors: readonly ReadonlyMap<DeckChannel, Float64Array>[];
  readonly noise: Float64Array;
  /** Noise over stated noise that is tried. */
  readonly noiseFactors: readonly number[];
}

/** What is assumed in a fit. */
export interface FitAssumptions {
  /** Factor on the noise densities; to see how much the answer leans on them. */
  readonly noiseScale?: number;
  /** What is known of each contact beforehand, as negative log likelihood. */
  readonly contactCosts?: readonly number[] | undefined;
}

/**
 * Makes the table of expected spectra for the channels given; of the classes' w = 2 unless told otherwise.
 *
 * @param phaseScale where the notches of the wheelbase lie, see `fitWheelPhase`
 */
export function contactTable(
  expected: ExpectedSpectra,
  channels: readonly ChannelSpectrum[],
  phaseScale: number,
  shape: FloorShape = CLASS_SHAPE,
): ContactTable {
  const columns = channels.map(({ channel }) => ({
    channel,
    floors: expected.floors(channel, shape, CONTACT_TRIES, phaseScale),
  }));
  return {
    noise: expected.noise,
    noiseFactors: [1],
    floors: CONTACT_TRIES.map((_, k) => new Map(columns.map(({ channel, floors }) => [channel, floors[k]]))),
  };
}

/** The table for a fit in which the noise may be less than stated, where the stated noise leaves room for that. */
export function withLessNoise(table: ContactTable, channels: readonly ChannelSpectrum[]): ContactTable {
  const least = Math.min(...channels.map((c) => Math.sqrt(c.leastNoisePsd / c.noisePsd)));
  return { ...table, noiseFactors: [1, ...LESS_NOISE.filter((factor) => factor > least)] };
}

/** Fits the level at w = 2, averaged over the contact and over the noise that the table lets be tried. */
export function fitFloor(
  channels: readonly ChannelSpectrum[],
  table: ContactTable,
  kept: KeptBins,
  { noiseScale = 1, contactCosts: known }: FitAssumptions = {},
): FloorFit {
  const fits = table.floors.flatMap((floors, contact) =>
    table.noiseFactors.map((noiseFactor) => {
      const ready = channels.map((c) =>
        fitChannel(c, floors.get(c.channel)!, table.noise, kept, { noiseFactor, noiseScale }),
      );
      const tracks = combineTracks(channels, ready);
      const prior = (Math.log(noiseFactor) / NOISE_SD_LN) ** 2 / 2 + (known?.[contact] ?? 0);
      return { ...tracks, contact, noiseFactor, cost: tracks.cost + prior };
    }),
  );
  const best = fits.reduce((least, fit) => (fit.cost < least.cost ? fit : least));
  const { mean, sd } = weightedMoments(
    fits.map((fit) => fit.cost),
    fits.map((fit) => fit.lnG),
    fits.map((fit) => fit.sd),
  );
  const contactCosts = table.floors.map((_, k) =>
    Math.min(...fits.filter(({ contact }) => contact === k).map(({ cost }) => cost)),
  );
  return {
    gdM3: Math.exp(mean),
    sdLn: sd,
    coherenceSdLn: best.difference ? 0 : ONE_SIDED_SD,
    meanTrackM3: best.meanTrack ? Math.exp(best.meanTrack.lnLevel) : null,
    differenceM3: best.difference ? Math.exp(best.difference.lnLevel) : null,
    contactCyclesPerM: CONTACT_TRIES[best.contact],
    hardestContactCyclesPerM:
      CONTACT_TRIES[contactCosts.findLastIndex((cost) => cost < best.cost + ALLOWED_RISE)],
    noiseFactor: best.noiseFactor,
    cost: best.cost,
    contactCosts,
  };
}

/**
 * The roughest floor that the spectra still allow, single-track Gd(n0) in m^3, 95 % one-sided; tracks unlike each other when roll
 * is missing. Noise that may be movement lost in coding is added to the spectra here, not taken off.
 *
 * @param channels pitch or heave among them: roll alone bounds nothing from above
 * @param noiseScale factor on the stated noise densities; below 1, since less noise leaves more to the floor
 */
export function highestRoughness(
  channels: readonly ChannelSpectrum[],
  table: ContactTable,
  kept: KeptBins,
  noiseScale: number,
): number {
  const costs: number[] = [];
  const bounds: number[] = [];
  for (const floors of table.floors) {
    const ready = channels.map((c) =>
      fitChannel(withLostMovement(c, table.noise), floors.get(c.channel)!, table.noise, kept, { noiseScale }),
    );
    const boundOf = (some: readonly FitChannel[]): number => {
      const fit = fitLevel(some);
      cost += fit.cost;
      return Math.exp(highestLevel(some, fit, ONE_SIDED_RISE));
    };
    let cost = 0;
    const mean = boundOf(ready.filter((_, i) => channels[i].channel !== 'roll'));
    const rolls = ready.filter((_, i) => channels[i].channel === 'roll');
    bounds.push(Math.log(rolls.length > 0 ? mean + boundOf(rolls) / 4 : 2 * mean));
    costs.push(cost);
  }
  const none = bounds.map(() => 0);
  return Math.exp(weightedMoments(costs, bounds, none).mean);
}

/** The channel as if all that coding may have taken away were still in it. */
function withLostMovement(channel: ChannelSpectrum, unitNoise: Float64Array): ChannelSpectrum {
  const lost = channel.noisePsd - channel.leastNoisePsd;
  const psd = channel.psd.map((value, i) => value + lost * unitNoise[i]);
  return { ...channel, psd, noisePsd: channel.leastNoisePsd };
}

/** The channel as the level fit takes it. @param noise `noiseFactor` leaves what is noise for sure, `noiseScale` changes that, too */
export function fitChannel(
  one: ChannelSpectrum,
  floor: Float64Array,
  unitNoise: Float64Array,
  kept: KeptBins,
  { noiseFactor = 1, noiseScale = 1 }: { readonly noiseFactor?: number; readonly noiseScale?: number } = {},
): FitChannel {
  const { channel, psd } = one;
  const density = noiseScale * likelyNoisePsd(one, noiseFactor);
  return { measured: psd, floor, noise: unitNoise.map((value) => value * density), keep: kept.get(channel)! };
}

function likelyNoisePsd({ noisePsd, leastNoisePsd }: ChannelSpectrum, factor: number): number {
  return Math.max(noisePsd * factor ** 2, Math.min(noisePsd, leastNoisePsd));
}

/** Expected spectrum of a channel under a fitted floor, noise included. */
export function fittedSpectrum(one: ChannelSpectrum, table: ContactTable, fit: FloorFit): Float64Array {
  const { channel } = one;
  const noisePsd = likelyNoisePsd(one, fit.noiseFactor);
  const floor = table.floors[CONTACT_TRIES.indexOf(fit.contactCyclesPerM)].get(channel)!;
  const level = levelOf(fit, channel);
  return floor.map((value, i) => value * level + table.noise[i] * noisePsd);
}

/** The fitted level that drives a channel, m^3; 0 for a channel that was not in the fit. */
export function levelOf(fit: FloorFit, channel: DeckChannel): number {
  return (channel === 'roll' ? fit.differenceM3 : fit.meanTrackM3) ?? 0;
}

/** Mean and sd of a quantity over alternatives weighted by exp(-cost), each with an sd of its own. */
export function weightedMoments(
  costs: readonly number[],
  values: readonly number[],
  sds: readonly number[],
): { mean: number; sd: number } {
  const lowest = Math.min(...costs);
  const weights = costs.map((cost) => Math.exp(lowest - cost));
  const total = weights.reduce((sum, w) => sum + w, 0);
  const mean = values.reduce((sum, value, i) => sum + weights[i] * value, 0) / total;
  const variance =
    values.reduce((sum, value, i) => sum + weights[i] * (sds[i] ** 2 + (value - mean) ** 2), 0) / total;
  return { mean, sd: Math.sqrt(variance) };
}

interface TracksFit {
  readonly lnG: number;
  readonly sd: number;
  readonly cost: number;
  readonly meanTrack: LevelFit | null;
  readonly difference: LevelFit | null;
}

function combineTracks(channels: readonly ChannelSpectrum[], ready: readonly FitChannel[]): TracksFit {
  const fitOf = (some: readonly FitChannel[]): LevelFit | null => (some.length > 0 ? fitLevel(some) : null);
  const meanTrack = fitOf(ready.filter((_, i) => channels[i].channel !== 'roll'));
  const difference = fitOf(ready.filter((_, i) => channels[i].channel === 'roll'));
  const cost = (meanTrack?.cost ?? 0) + (difference?.cost ?? 0);
  if (meanTrack !== null && difference !== null) {
    const gm = Math.exp(meanTrack.lnLevel);
    const quarter = Math.exp(difference.lnLevel) / 4;
    const sd = Math.hypot(gm * meanTrack.sd, quarter * difference.sd) / (gm + quarter);
    return { lnG: Math.log(gm + quarter), sd, cost, meanTrack, difference };
  }
  const [only, factor] = meanTrack !== null ? [meanTrack, ONE_SIDED_FACTOR] : [difference!, 1 / 4];
  return { lnG: only.lnLevel + Math.log(factor), sd: only.sd, cost, meanTrack, difference };
}

function logSteps(from: number, to: number, count: number): number[] {
  return Array.from({ length: count }, (_, i) => from * (to / from) ** (i / (count - 1)));
}
