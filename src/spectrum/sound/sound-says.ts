/** Which of the frequencies that frames would show at one place is heard, as a probability, from lines of the sound in hertz. */
import type { FoundPeak } from '../peaks/types.js';
import type { Heard, HeardLine, SoundSays } from './types.js';

/** How likely a motion is heard at each multiple of its frequency; and below 50 Hz, where microphones hear little. */
const HEARD_AS_TONE = [0.5, 0.4, 0.4, 0.3] as const;
const LOW_HZ = 50;
const HEARD_LOW = 0.25;
const HEARD_AS_BEAT = 0.5;
/** Standard deviations within which a line is at a frequency. */
const NEAR_SD = 3;
/** Standard deviations of peaks and lines hold for a steady frequency alone; a pace that wanders adds a share of it. */
const WIDER = 1.3;
const WANDERS_SHARE = { tone: 0.0005, beat: 0.002 } as const;
/** Lines are counted this far around a frequency, hertz and share of it, to see how crowded it is there. */
const CROWD_HZ = 5;
const CROWD_SHARE = 0.25;
/** Tones below this are lost to wind and microphones. */
const TONE_FROM_HZ = 15;
/** Lines at multiples of these are hum of the mains in the recording before they are anything that moves. */
const MAINS_HZ = [50, 60] as const;
const MAINS_SHARE = 0.002;
const LEAST_PROBABILITY = 0.6;
const MOST_PROBABILITY = 0.95;

/**
 * Which of the frequencies behind a peak the sound speaks for.
 *
 * Each candidate is likely beforehand as 1 / f: fast shake is small. A line heard at it, or a tone at two to four times
 * it, multiplies that by how much better the line fits than chance would have it: the normal density of the misfit over
 * the density of lines thereabouts; that nothing is heard counts against it, mildly. Hum of the mains (multiples of 50 and
 * 60 Hz) counts neither way. So two unlike motions that fold onto each other are told apart when one is heard; the sound
 * does not prove that what is heard is what is seen.
 *
 * @param peak of the picture, as seen
 * @param candidatesHz every true frequency that frames would show there, above 0
 * @returns null when nothing is heard at any candidate, or when that leaves the one that is heard below 0.6
 * @remarks Own derivation; how often motion is heard is a guess. In made-up passes of 10 s a coincidence got past 0.6 in
 * about 1 of 20 peaks whose motion is not heard while joints tick and a motor hums, in none where only voices are heard.
 */
export function soundSays(
  peak: Pick<FoundPeak, 'freqHz' | 'freqSdHz'>,
  candidatesHz: readonly number[],
  heard: Heard,
): SoundSays | null {
  if (heard.refusal !== null || heard.lines.length === 0) return null;
  let sum = 0;
  let best: { trueHz: number; kind: SoundSays['kind']; weight: number } | null = null;
  for (const trueHz of candidatesHz) {
    const { factor, kind } = evidence(trueHz, peak.freqSdHz, heard);
    const weight = factor / trueHz;
    sum += weight;
    if (kind !== null && weight > (best?.weight ?? 0)) best = { trueHz, kind, weight };
  }
  if (!best || best.weight < LEAST_PROBABILITY * sum) return null;
  const probability = Math.min(MOST_PROBABILITY, best.weight / sum);
  return { trueHz: best.trueHz, kind: best.kind, probability };
}

interface Evidence {
  /** How much likelier what is heard is when this is the motion than when it is not. */
  readonly factor: number;
  /** What it is heard as most clearly; null when it is not heard. */
  readonly kind: SoundSays['kind'] | null;
}

function evidence(trueHz: number, freqSdHz: number, heard: Heard): Evidence {
  const views = [
    ...HEARD_AS_TONE.map((share, m) => {
      const order = m + 1;
      return { kind: 'tone', order, share: order * trueHz < LOW_HZ ? HEARD_LOW : share } as const;
    }),
    { kind: 'beat', order: 1, share: HEARD_AS_BEAT } as const,
  ];
  let factor = 1;
  let kind: SoundSays['kind'] | null = null;
  let clearest = 0;
  for (const view of views) {
    const atHz = view.order * trueHz;
    const [lowHz, topHz] = view.kind === 'tone' ? [TONE_FROM_HZ, heard.toneTopHz] : [0, heard.beatTopHz];
    if (atHz < lowHz || atHz > topHz || isMains(atHz)) continue;
    const lines = heard.lines.filter((line) => line.kind === view.kind && !isMains(line.freqHz));
    const gain = fit(lines, atHz, view.order * freqSdHz);
    factor *= 1 - view.share + view.share * gain;
    if (gain > Math.max(1, clearest)) {
      clearest = gain;
      kind = view.kind;
    }
  }
  return { factor, kind };
}

/** Density of the misfit of the nearest line over the density of lines around; 0 without a line that is near. */
function fit(lines: readonly HeardLine[], atHz: number, sdHz: number): number {
  let nearest: HeardLine | null = null;
  let around = 0;
  const crowdHz = Math.max(CROWD_HZ, CROWD_SHARE * atHz);
  for (const line of lines) {
    const offHz = Math.abs(line.freqHz - atHz);
    if (offHz <= crowdHz) around++;
    if (!nearest || offHz < Math.abs(nearest.freqHz - atHz)) nearest = line;
  }
  if (!nearest) return 0;
  const sd = Math.hypot(WIDER * sdHz, WIDER * nearest.freqSdHz, WANDERS_SHARE[nearest.kind] * atHz);
  const z = (nearest.freqHz - atHz) / sd;
  if (Math.abs(z) > NEAR_SD) return 0;
  const widthHz = crowdHz + Math.min(crowdHz, atHz);
  return (Math.exp(-(z ** 2) / 2) / (sd * Math.sqrt(2 * Math.PI)) / Math.max(around, 1)) * widthHz;
}

function isMains(freqHz: number): boolean {
  return MAINS_HZ.some((mains) => {
    const order = Math.round(freqHz / mains);
    return order > 0 && Math.abs(freqHz - order * mains) <= MAINS_SHARE * freqHz;
  });
}
