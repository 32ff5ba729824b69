/**
 * The bands that setups are compared in, fixed before anything is looked at: octaves with exact edges (IEC 61260-1:2014, base ten), cut
 * to the band that all passes have in common. Octaves and not thirds, for every band more makes each claim harder (Holm).
 */

/** A band in hertz. */
export interface FrequencyBand {
  readonly label: string;
  readonly fromHz: number;
  readonly toHz: number;
}

/** Nominal middle and its place from 1 kHz in octaves. */
const OCTAVES = [
  ['1 Hz', -10],
  ['2 Hz', -9],
  ['4 Hz', -8],
  ['8 Hz', -7],
  ['16 Hz', -6],
  ['31.5 Hz', -5],
  ['63 Hz', -4],
] as const;
const OCTAVE = 10 ** 0.3;
/** An octave of which less lies in the band is left out. */
const LEAST_SHARE = 0.5;

/** The octaves of a band. @example octavesWithin([0.8, 12.5]).map(({ label }) => label) // ["1 Hz", "2 Hz", "4 Hz", "8 Hz"] */
export function octavesWithin([lowHz, highHz]: readonly [number, number]): FrequencyBand[] {
  return OCTAVES.flatMap(([label, steps]) => {
    const middle = 1000 * OCTAVE ** steps;
    const fromHz = Math.max(lowHz, middle / Math.sqrt(OCTAVE));
    const toHz = Math.min(highHz, middle * Math.sqrt(OCTAVE));
    const share = Math.log(toHz / fromHz) / Math.log(OCTAVE);
    return share >= LEAST_SHARE ? [{ label, fromHz, toHz }] : [];
  });
}
