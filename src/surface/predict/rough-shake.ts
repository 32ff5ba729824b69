/**
 * Power of deck pitch, roll and heave ((rad)^2, m^2) that a rough floor gives a setup in the vibration band, and from
 * which waves of the floor it comes.
 *
 * The same model that the fit of a pass uses: deck gain, contact, exposure, high-pass, and what frames fold back from beyond half
 * their rate. Counted along the true frequency, so that each wave keeps its place on the floor. Own derivation.
 */
import { fourthDifferenceGain } from '../../numerics/index.js';
import { aliasedFrequencyHz, exposureGain } from '../../optics/index.js';
import { contactPowerGain, deckPowerGain, type DeckChannel } from '../deck/deck-transfer.js';
import { shapedPsd, type FloorShape } from './floor-shape.js';
import type { SetupForPrediction } from './types.js';

/** Frequencies beyond so many frame rates hold below 1 % of the power, exposure or not. */
const RATES_COUNTED = 3.5;
/** Steps per wave of the deck gain: the sum is then exact to 1e-3; and below the cut-off, so that no wave bin in use is skipped. */
const STEPS_PER_NOTCH = 16;
const STEPS_BELOW_CUTOFF = 48;
const MOST_STEPS = 60_000;

/** Wave bins: a twelfth of an octave wide, the first at LOWEST_WAVENUMBER. */
export const BINS_PER_OCTAVE = 12;
const LOWEST_WAVENUMBER = 2 ** -9;
const OCTAVES = 22;
const BIN_COUNT = BINS_PER_OCTAVE * OCTAVES;

/** Power of one channel by wave of the floor. */
export interface RoughShake {
  /** Sum over all waves. */
  readonly power: number;
  /** Power in each bin of `binEdge`. */
  readonly byWave: Float64Array;
}

/** Lower edge of a wave bin, cycles/m. */
export function binEdge(bin: number): number {
  return LOWEST_WAVENUMBER * 2 ** (bin / BINS_PER_OCTAVE);
}

/** Middle of a wave bin on a log axis, cycles/m. */
export function binMiddle(bin: number): number {
  return binEdge(bin + 0.5);
}

/**
 * Power of each channel by wave, over a floor of Gd(n0) = 1 m^3 at w = 2: of the mean track for pitch and heave, of left minus right
 * for roll; no roll without a track width.
 *
 * @param contactCyclesPerM half-power wavenumber of the contact
 * @throws RangeError for a speed that is not above 0
 */
export function roughShake(
  shape: FloorShape,
  setup: SetupForPrediction,
  contactCyclesPerM: number,
): ReadonlyMap<DeckChannel, RoughShake> {
  const { speedMps, rateHz, exposureS, cutoffHz, trackWidthM } = setup;
  if (!(speedMps > 0 && Number.isFinite(speedMps)))
    throw new RangeError(`speedMps must be positive, got ${speedMps}`);
  const topHz = RATES_COUNTED * rateHz;
  const finest = Math.min(cutoffHz / STEPS_BELOW_CUTOFF, speedMps / setup.wheelbaseM / STEPS_PER_NOTCH);
  const count = Math.min(MOST_STEPS, Math.ceil(topHz / finest));
  const stepHz = topHz / count;
  const channels: DeckChannel[] = trackWidthM === null ? ['pitch', 'heave'] : ['pitch', 'heave', 'roll'];
  const byWave = new Map(channels.map((channel) => [channel, new Float64Array(BIN_COUNT)]));
  for (let i = 0; i < count; i++) {
    const freqHz = (i + 0.5) * stepHz;
    const highPass = fourthDifferenceGain(aliasedFrequencyHz(freqHz, rateHz), rateHz, cutoffHz);
    const n = freqHz / speedMps;
    const heightPower =
      (stepHz / speedMps) *
      shapedPsd(1, shape, n) *
      contactPowerGain(n, contactCyclesPerM) *
      (highPass * exposureGain(freqHz, exposureS)) ** 2;
    const bin = binOf(n);
    for (const channel of channels)
      byWave.get(channel)![bin] += heightPower * deckPowerGain(channel, n, setup);
  }
  return new Map(
    channels.map((channel) => {
      const bins = byWave.get(channel)!;
      return [channel, { power: bins.reduce((sum, power) => sum + power, 0), byWave: bins }];
    }),
  );
}

function binOf(cyclesPerM: number): number {
  const bin = Math.floor(BINS_PER_OCTAVE * Math.log2(cyclesPerM / LOWEST_WAVENUMBER));
  return Math.max(0, Math.min(BIN_COUNT - 1, bin));
}
