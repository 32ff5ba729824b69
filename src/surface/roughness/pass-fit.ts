/**
 * From the deck's motion to a fitted floor: multitaper spectra of pitch, heave and roll in (unit)^2 per Hz, the notches of the
 * wheelbase put where the clip shows them, and the level between machine lines.
 */
import { fourthDifferenceVibration, multitaperSpectrum, quantile } from '../../numerics/index.js';
import type { NoisySeries } from '../deck/deck-series.js';
import type { DeckChannel } from '../deck/deck-transfer.js';
import type { RolledDeck } from '../deck/rolled-deck.js';
import type { FloorLevels } from '../profile/types.js';
import {
  expectedSpectra,
  TAPER_COUNT,
  type ExpectedSpectra,
  type PassSettings,
} from './expected-spectrum.js';
import { contactTable, withLessNoise, type ChannelSpectrum, type ContactTable } from './floor-fit.js';
import { fitBetweenLines, type MaskedFit } from './machine-lines.js';
import { fitWheelPhase } from './wheel-phase.js';

/** Lower end of the fitted band: well above the cut-off of the high-pass. */
const LOWEST_HZ = 1;
const ABOVE_CUTOFF = 1.25;
/** Upper end as a share of the frame rate, just below Nyquist. */
const TOP_SHARE = 0.48;
/** Speeds that stand for a pass whose speed varies, as shares of its frames; one when it varies by less than rounding does. */
const SPEED_SHARES = [0.1, 0.3, 0.5, 0.7, 0.9];
const STEADY = 1e-6;

/** Everything that a grade is read from. */
export interface FittedPass {
  readonly settings: PassSettings;
  readonly expected: ExpectedSpectra;
  /** Wheelbase in the notches over wheelbase as given. */
  readonly phaseScale: number;
  readonly channels: readonly ChannelSpectrum[];
  readonly table: ContactTable;
  /** Frequency of each bin, Hz, and 1 where the bin lies in the band of the fit. */
  readonly freqHz: Float64Array;
  readonly band: Uint8Array;
  readonly masked: MaskedFit;
  /** Null when pitch is not measured. */
  readonly pitchSdRad: number | null;
  /** Null when heave is not measured. */
  readonly heaveSdM: number | null;
  /** Null when roll is not measured. */
  readonly rollSdRad: number | null;
}

/**
 * Fits the floor of a pass to whatever its deck shows of pitch, heave and roll.
 *
 * @param deck not changed; all its frames count, since the tapers vanish at its ends
 * @throws RangeError for a deck without any series
 */
export function fitPass(deck: RolledDeck): FittedPass {
  const channels = channelSpectra(deck);
  if (channels.length === 0) throw new RangeError('a deck without pitch, heave and roll has no floor to fit');
  const { rateHz, cutoffHz } = deck;
  const frameCount = deck.timeS.length;
  const freqHz = Float64Array.from(channels[0].psd, (_, i) => (i * rateHz) / frameCount);
  const lowestHz = Math.max(LOWEST_HZ, ABOVE_CUTOFF * cutoffHz);
  const band = Uint8Array.from(freqHz, (f) => (f > lowestHz && f < TOP_SHARE * rateHz ? 1 : 0));

  const settings: PassSettings = {
    rateHz,
    frameCount,
    speedsMps: speedsOf(deck),
    dolly: { wheelbaseM: deck.wheelbaseM, trackWidthM: deck.trackWidthM },
    exposureS: deck.exposureS,
    cutoffHz,
  };
  const expected = expectedSpectra(settings);
  // Lines first: a strong one would drag the notches to itself.
  const asGiven = fitBetweenLines(channels, contactTable(expected, channels, 1), band, freqHz);
  const phaseScale = fitWheelPhase(settings, expected, channels, asGiven);
  const table = contactTable(expected, channels, phaseScale);
  return {
    settings,
    expected,
    phaseScale,
    channels,
    table,
    freqHz,
    band,
    masked: phaseScale === 1 ? asGiven : fitBetweenLines(channels, table, band, freqHz),
    pitchSdRad: deck.pitchRad?.noiseSd ?? null,
    heaveSdM: deck.heaveM?.noiseSd ?? null,
    rollSdRad: deck.rollRad?.noiseSd ?? null,
  };
}

/**
 * Fits the same pass again after heights were taken out of its deck: what is expected of the floor, the notches included, stays, so
 * it costs a fraction of `fitPass`.
 *
 * @param deck with the frames, noise and series of the one that was fitted
 */
export function refitPass(fitted: FittedPass, deck: RolledDeck): FittedPass {
  return between(fitted, channelSpectra(deck), fitted.table);
}

/**
 * The last fit, which the grade is read from: the same again, with the noise as small as the spectra want it, down to what is noise
 * for sure. Not for the search for events: what they leave behind looks like noise, and with less of it would count as events.
 */
export function refitWithLessNoise(fitted: FittedPass, deck: RolledDeck): FittedPass {
  const channels = channelSpectra(deck);
  return between(fitted, channels, withLessNoise(fitted.table, channels));
}

function between(fitted: FittedPass, channels: readonly ChannelSpectrum[], table: ContactTable): FittedPass {
  return { ...fitted, channels, table, masked: fitBetweenLines(channels, table, fitted.band, fitted.freqHz) };
}

/** Levels of the mean and the difference of the wheel tracks; null for the one that the pass does not show. */
export function levelsOf({ masked: { fit } }: FittedPass): FloorLevels {
  return { meanTrackM3: fit.meanTrackM3, differenceM3: fit.differenceM3 };
}

/** Speeds of the stretch, each standing for an equal share of its frames, m/s; one for a steady pace. */
function speedsOf({ rearM, rateHz }: RolledDeck): Float64Array {
  const speeds = Float64Array.from(
    { length: rearM.length - 1 },
    (_, i) => (rearM[i + 1] - rearM[i]) * rateHz,
  );
  const mean = ((rearM[rearM.length - 1] - rearM[0]) * rateHz) / speeds.length;
  const steady = speeds.every((speed) => Math.abs(speed - mean) < STEADY * mean);
  return steady ? Float64Array.of(mean) : Float64Array.from(SPEED_SHARES, (p) => quantile(speeds, p));
}

/** Multitaper spectra of the high-passed series that a deck has, pitch and heave before roll. */
export function channelSpectra(
  { pitchRad, heaveM, rollRad, rateHz, cutoffHz }: RolledDeck,
  taperCount = TAPER_COUNT,
): ChannelSpectrum[] {
  const channels: ChannelSpectrum[] = [];
  const add = (channel: DeckChannel, series: NoisySeries | null): void => {
    if (series === null) return;
    const vibration = fourthDifferenceVibration(series.values, rateHz, cutoffHz);
    channels.push({
      channel,
      psd: multitaperSpectrum(vibration, rateHz, taperCount).psd,
      noisePsd: (2 * series.noiseSd ** 2) / rateHz,
      leastNoisePsd: (2 * series.leastNoiseSd ** 2) / rateHz,
    });
  };
  add('pitch', pitchRad);
  add('heave', heaveM);
  add('roll', rollRad);
  return channels;
}
