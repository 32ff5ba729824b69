/**
 * From the deck's vibration to a fitted floor: multitaper spectra of pitch, heave and roll in (unit)^2 per Hz, the notches of the
 * wheelbase put where the clip shows them, and the level between machine lines.
 */
import type { Motion } from '../../motion/index.js';
import { multitaperSpectrum } from '../../numerics/index.js';
import { deckSeries, type DeckSeries, type NoisySeries } from '../deck/deck-series.js';
import type { DeckChannel } from '../deck/deck-transfer.js';
import {
  expectedSpectra,
  TAPER_COUNT,
  type ExpectedSpectra,
  type PassSettings,
} from './expected-spectrum.js';
import { contactTable, type ChannelSpectrum, type ContactTable } from './floor-fit.js';
import { fitBetweenLines, type MaskedFit } from './machine-lines.js';
import type { Pass } from '../deck/pass.js';
import { fitWheelPhase } from './wheel-phase.js';

/** Lower end of the fitted band: well above the cut-off of the high-pass. */
const LOWEST_HZ = 1;
const ABOVE_CUTOFF = 1.25;
/** Upper end as a share of the frame rate, just below Nyquist. */
const TOP_SHARE = 0.48;

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
  readonly pitchSdRad: number;
  /** Null when heave is not measured. */
  readonly heaveSdM: number | null;
}

/**
 * Fits the floor of a pass. Roll counts only with a track width, heave only with translation in metres.
 *
 * @param motion not changed; all frames of the moving stretch count, since the tapers vanish at its ends
 */
export function fitPass(pass: Pass, motion: Motion): FittedPass {
  const { fromFrame, toFrame, speedsMps } = pass.travel;
  const { rateHz } = motion;
  const cutoffHz = motion.bandHz[0];
  const deck = deckSeries(motion, pass.mounting, fromFrame, toFrame);
  const channels = channelSpectra(deck, pass, rateHz);
  const frameCount = toFrame - fromFrame;
  const freqHz = Float64Array.from(channels[0].psd, (_, i) => (i * rateHz) / frameCount);
  const lowestHz = Math.max(LOWEST_HZ, ABOVE_CUTOFF * cutoffHz);
  const band = Uint8Array.from(freqHz, (f) => (f > lowestHz && f < TOP_SHARE * rateHz ? 1 : 0));

  const settings: PassSettings = {
    rateHz,
    frameCount,
    speedsMps,
    dolly: pass.dolly,
    exposureS: pass.exposureS,
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
    pitchSdRad: deck.pitchRad.noiseSd,
    heaveSdM: deck.heaveM?.noiseSd ?? null,
  };
}

function channelSpectra(deck: DeckSeries, pass: Pass, rateHz: number): ChannelSpectrum[] {
  const channelOf = (
    channel: DeckChannel,
    { values, noiseSd, leastNoiseSd }: NoisySeries,
  ): ChannelSpectrum => ({
    channel,
    psd: multitaperSpectrum(values, rateHz, TAPER_COUNT).psd,
    noisePsd: (2 * noiseSd ** 2) / rateHz,
    leastNoisePsd: (2 * leastNoiseSd ** 2) / rateHz,
  });
  const channels = [channelOf('pitch', deck.pitchRad)];
  if (deck.heaveM !== null) channels.push(channelOf('heave', deck.heaveM));
  if (pass.dolly.trackWidthM !== null) channels.push(channelOf('roll', deck.rollRad));
  return channels;
}
