/**
 * Brings flat pictures (log curves, haze, night) to a contrast that can be tracked: one linear stretch for the
 * whole clip, from 16-bit grey to 8-bit, so that it neither flickers nor adds steps. Levels are in 8-bit units, 0..255.
 */
import { analysisSize } from './analysis-size.js';
import type { ClipRange } from './clip-range.js';
import { scaledLook } from './frame-look.js';
import { stampedFrames } from './stamped-frames.js';
import type { ClipFacts, Tools } from './types.js';

/** Levels between the 1 % and 99 % points below which a picture is stretched. */
const NARROW_SPAN = 100;
/** Below this there is nothing but noise to stretch. */
const EMPTY_SPAN = 3;
/** What the 1..99 % levels are stretched to; the rest is headroom for brighter and darker places later on. */
const WANTED_SPAN = 200;
/** Beyond this, noise and coding steps are stretched more than picture. */
const LARGEST_GAIN = 8;
const MIDDLE_LEVEL = 127.5;
const SAMPLE_WIDTH_PX = 320;
const TICKS_PER_LEVEL = 65535 / 255;

/** A linear stretch: grey = middle of the range + contrastGain * (level - centreLevel). */
export interface Contrast {
  /** 1 when the picture is left as it is. */
  readonly contrastGain: number;
  readonly centreLevel: number;
}

/** No stretch. */
export const AS_IT_IS: Contrast = Object.freeze({ contrastGain: 1, centreLevel: MIDDLE_LEVEL });

/**
 * The stretch for a range of the clip, from one frame each near its start, first third and second third, so that
 * neither a slate nor a fade at the start decides alone.
 *
 * @param range in clip time; with an end that is not known, the start decides alone
 */
export async function chooseContrast(
  file: string,
  facts: ClipFacts,
  range: Pick<ClipRange, 'inS' | 'endS'>,
  tools: Tools,
  signal?: AbortSignal,
): Promise<Contrast> {
  const { widthPx, heightPx } = analysisSize(facts, SAMPLE_WIDTH_PX);
  const look = scaledLook(facts, widthPx, heightPx, 'gray16le');
  const lengthS = Number.isFinite(range.endS) ? range.endS - range.inS : 0;
  const fractions = lengthS > 0 ? [0, 1 / 3, 2 / 3] : [0];
  const spanNear = async (fraction: number): Promise<[number, number] | null> => {
    const plan = { look, fromS: range.inS + fraction * lengthS, near: true, signal };
    for await (const frame of stampedFrames(file, facts, plan, tools))
      return levelSpan(new Uint16Array(frame.bytes.buffer));
    return null;
  };
  // Side by side, since each mostly waits for a program to start; all have ended before a fault of one is told.
  const looks = fractions.map(spanNear);
  await Promise.allSettled(looks);
  const spans = (await Promise.all(looks)).filter((span) => span !== null);
  if (!spans.some(([low, high]) => high - low >= EMPTY_SPAN)) return AS_IT_IS;
  return stretchFor(Math.min(...spans.map(([low]) => low)), Math.max(...spans.map(([, high]) => high)));
}

/** The stretch that suits a picture whose 1 % and 99 % levels are these. */
export function stretchFor(lowLevel: number, highLevel: number): Contrast {
  const span = highLevel - lowLevel;
  if (span >= NARROW_SPAN || span < EMPTY_SPAN) return AS_IT_IS;
  return {
    contrastGain: Math.min(LARGEST_GAIN, WANTED_SPAN / span),
    centreLevel: (lowLevel + highLevel) / 2,
  };
}

/** 8-bit grey for each of the 65536 levels of 16-bit grey, rounded to nearest, held at 0 and 255. */
export function stretchTable({ contrastGain, centreLevel }: Contrast): Uint8ClampedArray {
  return Uint8ClampedArray.from({ length: 65536 }, (_, ticks) => {
    return MIDDLE_LEVEL + contrastGain * (ticks / TICKS_PER_LEVEL - centreLevel);
  });
}

/** 8-bit grey of 16-bit pixels (little-endian, as this machine), written over the first half of them. */
export function applyStretch(ticks: Uint16Array<ArrayBuffer>, table: Uint8ClampedArray): Uint8Array {
  const grey = new Uint8Array(ticks.buffer, ticks.byteOffset, ticks.length);
  for (let i = 0; i < ticks.length; i++) grey[i] = table[ticks[i]];
  return grey;
}

/** Levels that 1 % and 99 % of the pixels lie below. */
function levelSpan(ticks: Uint16Array): [number, number] {
  const counts = new Float64Array(65536);
  for (let i = 0; i < ticks.length; i++) counts[ticks[i]]++;
  const levelAt = (share: number) => {
    let below = 0;
    let tick = 0;
    while (tick < 65535 && (below += counts[tick]) < share * ticks.length) tick++;
    return tick / TICKS_PER_LEVEL;
  };
  return [levelAt(0.01), levelAt(0.99)];
}
