/** In and out of a clip: between texts as people type them, frame numbers from the head of the clip, and seconds. */
import { MEASURABLE } from '../judge/index.js';
import {
  TrundleError,
  frameOfTimecode,
  parseFrameRate,
  parsePointS,
  supportsDropFrame,
  timecodeOf,
} from '../run/index.js';
import { obstacleTexts, trimTexts } from '../texts/index.js';
import type { ClipEntry } from './api.js';

/** What frames and timecodes of a clip are counted by. */
export type FrameBase = Pick<
  ClipEntry,
  'fpsFraction' | 'timecodeStart' | 'frameCount' | 'durationS' | 'variableRate'
>;

/** In and out as typed; what is missing is the end of the clip on that side. */
export interface TypedStretch {
  readonly in?: string;
  readonly out?: string;
}

/** What they mean. */
export interface Stretch {
  /** First frame. */
  readonly inFrame: number;
  /** First frame left out, at most the number of frames. */
  readonly outFrame: number;
  /** Why a point cannot be used, in a sentence; null when it can. */
  readonly inFault: string | null;
  readonly outFault: string | null;
  /** Why there would be no verdict; null where nothing stands against one. */
  readonly tooShort: string | null;
  /** What a person should know all the same. */
  readonly note: string | null;
}

/** Periods of the slowest shake that a clip must hold for it to be counted, and where that shake begins, Hz. */
const PERIODS = 3;
const SLOWEST_HZ = 0.8;

/** Frames of a clip, at least 1. Of a varying rate: as many as fit at the mean rate, since points count by it. */
export function framesOf({ fpsFraction, frameCount, durationS, variableRate }: FrameBase): number {
  const { numerator, denominator } = parseFrameRate(fpsFraction);
  const fitting = Math.round((durationS * numerator) / denominator);
  return Math.max(1, variableRate || frameCount <= 0 ? fitting : frameCount);
}

/** When a frame begins, seconds from the start of the clip. */
export function timeOfFrame(frame: number, { fpsFraction }: Pick<FrameBase, 'fpsFraction'>): number {
  const { numerator, denominator } = parseFrameRate(fpsFraction);
  return (frame * denominator) / numerator;
}

/** Frames that a second is stepped by. */
export function framesOfSecond({ fpsFraction }: Pick<FrameBase, 'fpsFraction'>): number {
  const { numerator, denominator } = parseFrameRate(fpsFraction);
  return Math.max(1, Math.round(numerator / denominator));
}

/** The label of a frame, by the clip's own start label or from 00:00:00:00; with a semicolon where the clip counts drop-frame. */
export function labelOf(frame: number, base: Pick<FrameBase, 'fpsFraction' | 'timecodeStart'>): string {
  const rate = parseFrameRate(base.fpsFraction);
  const start = base.timecodeStart === null ? 0 : frameOfTimecode(base.timecodeStart, rate);
  return timecodeOf(start + frame, rate, countsDropFrame(base));
}

/** How a point is written so that it is read as the same frame: its label, or `120f` where the label would be taken otherwise. */
export function pointText(frame: number, base: FrameBase): string {
  const label = labelOf(frame, base);
  return frameOfPoint(label, base) === frame ? label : `${frame}f`;
}

/** A stretch with one point typed anew; an empty text takes the point off. */
export function withPoint(typed: TypedStretch, point: 'in' | 'out', text: string): TypedStretch {
  const points = Object.entries({ ...typed, [point]: text }).filter(([, written]) => written !== '');
  return Object.fromEntries(points);
}

/** Reads in and out; never throws, a fault is a sentence. */
export function readStretch(typed: TypedStretch, base: FrameBase): Stretch {
  const frames = framesOf(base);
  const seconds = base.durationS.toFixed(2);
  const from = readPoint(typed.in, base, 0);
  const to = readPoint(typed.out, base, frames);
  const inFault = from.fault ?? (from.frame >= frames ? trimTexts.inBeyondEnd(seconds) : null);
  const outFrame = Math.min(to.frame, frames);
  const outFault = to.fault ?? (inFault === null && outFrame <= from.frame ? trimTexts.outNotAfterIn : null);
  const held = outFrame - from.frame;
  const usable = inFault === null && outFault === null;
  return {
    // Beyond the clip it cannot be used; its handle stays at the end of the strip.
    inFrame: Math.min(from.frame, frames),
    outFrame,
    inFault,
    outFault,
    tooShort:
      usable && held < MEASURABLE.leastFrames
        ? obstacleTexts.tooFewFrames(held, MEASURABLE.leastFrames)
        : null,
    note: usable ? noteOn(held, to.frame > frames, base) : null,
  };
}

function noteOn(held: number, isBeyondEnd: boolean, base: FrameBase): string | null {
  const heldS = timeOfFrame(held, base);
  if (isBeyondEnd) return trimTexts.outBeyondEnd(base.durationS.toFixed(2));
  const isShort = held >= MEASURABLE.leastFrames && heldS < PERIODS / SLOWEST_HZ;
  return isShort ? trimTexts.short((PERIODS / heldS).toFixed(1)) : null;
}

function readPoint(
  text: string | undefined,
  base: FrameBase,
  otherwise: number,
): { readonly frame: number; readonly fault: string | null } {
  if (text === undefined || text.trim() === '') return { frame: otherwise, fault: null };
  try {
    return { frame: frameOfPoint(text, base), fault: null };
  } catch (error) {
    if (error instanceof TrundleError) return { frame: otherwise, fault: error.message };
    throw error;
  }
}

/** @throws TrundleError `argument-invalid` */
function frameOfPoint(text: string, base: FrameBase): number {
  const rate = parseFrameRate(base.fpsFraction);
  const atS = parsePointS(text, rate, base.timecodeStart);
  return Math.round((atS * rate.numerator) / rate.denominator);
}

function countsDropFrame({
  fpsFraction,
  timecodeStart,
}: Pick<FrameBase, 'fpsFraction' | 'timecodeStart'>): boolean {
  return (
    timecodeStart !== null && timecodeStart.includes(';') && supportsDropFrame(parseFrameRate(fpsFraction))
  );
}
