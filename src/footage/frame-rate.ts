/** The rate of a clip as an exact fraction, and whether its frames are evenly spaced, from packet time stamps in seconds. */
import { ratio } from './stream-facts.js';

/** A gap this far from the usual one is uneven; container ticks excepted. 5 % of a frame is what resampling must not ignore. */
const UNEVEN_FRAC = 0.05;
/** Single holes are dropped frames, not a variable rate. */
const UNEVEN_SHARE = 0.02;
/** Stated rates nearer than this to the measured one are the same rate; film and video rates differ by 0.1 %. */
const SAME_RATE_FRAC = 0.0004;
/** A stated fraction this near to a usual rate means that rate. */
const ROUNDED_FRAC = 0.00002;
/** An average this far from the time stamps is another rate; less can be the length of the last frame. */
const OTHER_RATE_FRAC = 0.05;
/** A statement this far from even time stamps is wrong; less can be the rounding of time stamps to milliseconds. */
const MISSTATED_FRAC = 0.01;

/** What is known about a stream's rate before its time stamps are looked at. */
export interface StatedRate {
  /** The lowest rate on which all time stamps fall; twice the frame rate when fields are counted. */
  readonly base: string | undefined;
  /** Frames over duration. */
  readonly average: string | undefined;
  /** Length of one container tick in seconds. */
  readonly tickS: number;
  /** The coding states its rate in fields (H.264, time_scale over num_units_in_tick): two to a frame. */
  readonly countsFields?: boolean;
  /** The time stamps are those of the whole clip, so that no average is needed to tell what comes later. */
  readonly isWhole?: boolean;
  /** Time stamps from further on in the clip, stretch by stretch. Without them the average is believed. */
  readonly laterS?: readonly (readonly number[])[];
}

/** A rate and how even it is. */
export interface FrameRate {
  readonly fps: number;
  readonly fpsFraction: string;
  readonly variableRate: boolean;
  /** The rate that the container states; absent where the time stamps bear it out. */
  readonly misstatedFps?: number;
}

/**
 * The frame rate.
 *
 * Evenly spaced time stamps decide for a constant rate, whose exact fraction is the stated one that agrees with
 * them. When spacing is uneven, or the rate is another one later in the clip than at its start, the rate is variable
 * and the average is given. With fewer than four time stamps the statements alone decide.
 *
 * @param timeS presentation times of the first packets in any order
 */
export function frameRate(timeS: readonly number[], stated: StatedRate): FrameRate {
  const base = ratio(stated.base);
  const average = ratio(stated.average);
  const spacing = spacingOf(timeS, stated.tickS);
  if (!spacing) return timeS.length === 0 ? withoutStamps(stated) : byStatement(stated, base, average);
  if (spacing.uneven || changesLater(spacing.fps, stated)) {
    const isWrong = average === null || (stated.isWhole && isOtherRate(average, spacing.meanFps));
    return chosen(isWrong ? fractionOf(spacing.meanFps) : stated.average, true);
  }
  const agreeing = [stated.base, stated.average].find((text) => sameRate(ratio(text) ?? 0, spacing.fps));
  const halved = base !== null && sameRate(base / 2, spacing.fps) ? halfOf(stated.base) : undefined;
  const rate = chosen(agreeing ?? halved ?? fractionOf(spacing.fps), false);
  const claims = [average, base].filter((fps) => fps !== null);
  const isMisstated =
    claims.length > 0 && claims.every((fps) => Math.abs(fps / rate.fps - 1) > MISSTATED_FRAC);
  return isMisstated ? { ...rate, misstatedFps: claims[0] } : rate;
}

/** Whether the rate is likely to be asked for further on in the clip: its average is not that of its start. */
export function asksForLater(timeS: readonly number[], stated: StatedRate): boolean {
  const average = ratio(stated.average);
  const spacing = spacingOf(timeS, stated.tickS);
  return spacing !== null && !spacing.uneven && average !== null && isOtherRate(average, spacing.fps);
}

/** Even frames at the start and another average: the rate changes later on, or the average is wrong. */
function changesLater(fps: number, { average: text, isWhole, laterS, tickS }: StatedRate): boolean {
  const average = ratio(text);
  if (isWhole || average === null || !isOtherRate(average, fps)) return false;
  const later = (laterS ?? []).map((timeS) => spacingOf(timeS, tickS)).filter((one) => one !== null);
  return later.length === 0 || later.some((one) => one.uneven || isOtherRate(one.fps, fps));
}

function isOtherRate(fps: number, seenFps: number): boolean {
  return Math.abs(fps / seenFps - 1) > OTHER_RATE_FRAC;
}

/** A bare stream: FFmpeg reads it at 25 a second unless the coding itself states another rate. */
function withoutStamps({ base, average, countsFields }: StatedRate): FrameRate {
  if (base === undefined || ratio(base) === null) return chosen(average, false);
  return chosen(countsFields ? halfOf(base) : base, false);
}

function byStatement(stated: StatedRate, base: number | null, average: number | null): FrameRate {
  if (base === null || average === null) return chosen(base === null ? stated.average : stated.base, false);
  const isDoubled = sameRate(base, 2 * average);
  const isVariable = !isDoubled && !sameRate(base, average);
  return chosen(isDoubled || isVariable ? stated.average : stated.base, isVariable);
}

function spacingOf(
  timeS: readonly number[],
  tickS: number,
): { fps: number; meanFps: number; uneven: boolean } | null {
  const sorted = [...timeS].sort((a, b) => a - b);
  const gaps = sorted.slice(1).map((time, index) => time - sorted[index]);
  if (gaps.length < 3) return null;
  const usual = [...gaps].sort((a, b) => a - b)[gaps.length >> 1];
  if (!(usual > 0)) return null;
  const allowance = Math.max(UNEVEN_FRAC * usual, 1.5 * tickS);
  const odd = gaps.filter((gap) => Math.abs(gap - usual) > allowance);
  const even = gaps.filter((gap) => Math.abs(gap - usual) <= allowance);
  // The mean over the even gaps averages the rounding to container ticks away; the median alone keeps it.
  const fps = even.length / even.reduce((sum, gap) => sum + gap, 0);
  const meanFps = gaps.length / (sorted[gaps.length] - sorted[0]);
  return { fps, meanFps, uneven: odd.length > Math.max(1, UNEVEN_SHARE * gaps.length) };
}

function sameRate(a: number, b: number): boolean {
  return Math.abs(a / b - 1) < SAME_RATE_FRAC;
}

function halfOf(fraction: string | undefined): string {
  const [over, under = 1] = (fraction ?? '').split('/').map(Number);
  return over % 2 === 0 ? `${over / 2}/${under}` : `${over}/${2 * under}`;
}

function fractionOf(fps: number): string {
  const ntsc = Math.round((fps * 1001) / 1000);
  if (sameRate(fps, Math.round(fps))) return `${Math.round(fps)}/1`;
  if (sameRate(fps, (ntsc * 1000) / 1001)) return `${ntsc * 1000}/1001`;
  return `${Math.round(fps * 1000)}/1000`;
}

/** A stated fraction made of rounded time stamps ("19001/317") is put right where it means a usual rate. */
function chosen(stated: string | undefined, variableRate: boolean): FrameRate {
  const statedFps = ratio(stated);
  if (statedFps === null || stated === undefined) return { fps: 25, fpsFraction: '25/1', variableRate };
  const usual = fractionOf(statedFps);
  const isUsual = !variableRate && Math.abs((ratio(usual) ?? 0) / statedFps - 1) < ROUNDED_FRAC;
  const fpsFraction = isUsual ? usual : stated;
  return { fps: ratio(fpsFraction) ?? statedFps, fpsFraction, variableRate };
}
