/**
 * How strongly a rigid deck on two axles answers to the floor, as power gains per wavenumber, and how much of a wave a wheel
 * that is no point still follows.
 *
 * Rear axle at s, front axle at s + L. With m the mean and d = left - right of both wheel tracks:
 * pitch = (m(s+L) - m(s)) / L, heave of the middle = (m(s+L) + m(s)) / 2, deck roll = (d(s+L) + d(s)) / (2 B).
 * Own derivation.
 */

/** What the deck does that the floor drives; pitch and heave answer to the mean track, roll to the difference of the tracks. */
export type DeckChannel = 'pitch' | 'heave' | 'roll';

/** Measures of the dolly, metres. */
export interface DollySize {
  readonly wheelbaseM: number;
  /** Null when unknown: the roll channel is then not to be used. */
  readonly trackWidthM: number | null;
}

/**
 * Power gain of one channel at a wavenumber: pitch 4 sin^2(pi n L) / L^2 in (rad/m)^2, heave cos^2(pi n L) without unit,
 * roll cos^2(pi n L) / B^2 in (rad/m)^2.
 *
 * @param phaseScale wheelbase that sets the notches over wheelbase as given, near 1
 * @throws RangeError for roll without a track width
 * @example deckPowerGain('pitch', 1 / 1.2, { wheelbaseM: 0.6, trackWidthM: null }) // (3.3333 rad/m)^2
 */
export function deckPowerGain(
  channel: DeckChannel,
  cyclesPerM: number,
  dolly: DollySize,
  phaseScale = 1,
): number {
  const phase = Math.PI * cyclesPerM * dolly.wheelbaseM * phaseScale;
  if (channel === 'pitch') return (2 * Math.sin(phase)) ** 2 / dolly.wheelbaseM ** 2;
  const heave = Math.cos(phase) ** 2;
  if (channel === 'heave') return heave;
  if (dolly.trackWidthM === null) throw new RangeError('roll needs a track width, got null');
  return heave / dolly.trackWidthM ** 2;
}

/**
 * Share of a wave's power that the contact patch lets through: 2^-(n/nc)^2, one half at `halfPowerCyclesPerM`.
 *
 * A bell-shaped patch; a hard wheel has nc above 100 cycles/m, a soft tyre with a 45 mm patch about 18.
 */
export function contactPowerGain(cyclesPerM: number, halfPowerCyclesPerM: number): number {
  return Math.exp(-Math.LN2 * (cyclesPerM / halfPowerCyclesPerM) ** 2);
}
