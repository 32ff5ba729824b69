/**
 * Where the notches of the wheelbase really lie: the factor on wheelbase / speed that fits the spectra best.
 *
 * The notches are v / L apart, and the higher ones move by many of their widths when the speed is 2 % or the wheelbase a few
 * millimetres off. The factor is searched on a grid around 1 with a prior of the size of such errors. Own derivation.
 */
import { CLASS_SHAPE, type ExpectedSpectra, type PassSettings } from './expected-spectrum.js';
import { levelOf, type ChannelSpectrum } from './floor-fit.js';
import { LINE_RATIO, type MaskedFit } from './machine-lines.js';

/** Search range. */
const RANGE = 0.06;
/** The sd of wheelbase over speed that both are trusted to beforehand: speed 2 %, wheelbase 5 mm in 450. */
export const PHASE_PRIOR_SD = 0.023;
/** Bounds of the grid step; the finer one keeps long clips affordable. */
const WIDEST_STEP = 0.005;
const FINEST_STEP = 0.001;
/** The top of the band, as a share of the frame rate, moves by this share of a bin per step. */
const TOP_SHARE = 0.4;
const BIN_SHARE = 0.35;

/** A gain in the negative log likelihood below this is chance: the wheelbase then stands as given. */
const LEAST_GAIN = 3;

/**
 * The factor on the wheelbase phase that makes the spectra most likely; 1 unless the clip speaks clearly for another.
 *
 * Ratios are capped at the line limit, so that a machine's line cannot drag the notches.
 *
 * @param settings of the pass; the grid is as fine as its length asks for
 * @param masked the floor as fitted with the factor 1, between machine lines
 */
export function fitWheelPhase(
  settings: PassSettings,
  expected: ExpectedSpectra,
  channels: readonly ChannelSpectrum[],
  masked: MaskedFit,
): number {
  const { fit, kept } = masked;
  const durationS = settings.frameCount / settings.rateHz;
  const fine = BIN_SHARE / (durationS * TOP_SHARE * settings.rateHz);
  const step = Math.max(FINEST_STEP, Math.min(WIDEST_STEP, fine));
  const reach = Math.round(RANGE / step);
  let costAsGiven = Infinity;
  let best = { cost: Infinity, scale: 1 };
  for (let k = -reach; k <= reach; k++) {
    const offset = k * step;
    const scale = 1 + offset;
    let cost = (offset / PHASE_PRIOR_SD) ** 2 / 2;
    for (const { channel, psd, noisePsd } of channels) {
      const bins = kept.get(channel)!;
      const level = levelOf(fit, channel);
      const [floor] = expected.floors(channel, CLASS_SHAPE, [fit.contactCyclesPerM], scale);
      for (let i = 0; i < psd.length; i++) {
        if (bins[i] === 0) continue;
        const model = level * floor[i] + noisePsd * expected.noise[i];
        cost += Math.min(psd[i] / model, LINE_RATIO) + Math.log(model);
      }
    }
    if (k === 0) costAsGiven = cost;
    if (cost < best.cost) best = { cost, scale };
  }
  return costAsGiven - best.cost > LEAST_GAIN ? best.scale : 1;
}
