/** The rate of a clip as an exact fraction, and whether its frames are evenly spaced, from packet time stamps in seconds. */
import { ratio } from './stream-facts.js';

/** A gap this far from the usual one is uneven; container ticks excepted. 5 % of a frame is what resampling must not ignore. */
const UNEVEN_FRAC = 0.05;
/** Single holes are dropped frames, not a variable rate. */
const UNEVEN_SHARE = 0.02;
/** Stated rates nearer than this to the measured one are the same rate; film and video rates differ by 0.1 %. */
const SAME_RATE_FRAC = 0.0004;

/** What is known about a stream's rate before its time stamps are looked at. */
export interface StatedRate {
  /** The lowest rate on which all time stamps fall; twice the frame rate when fields are counted. */
  readonly base: string | undefined;
  /** Frames over duration. */
  readonly average: string | undefined;
  /** Length of one container tick in seconds. */
  readonly tickS: number;
}

/** A rate and how even it is. */
export interface FrameRate {
  readonly fps: number;
  readonly fpsFraction: string;
  readonly variableRate: boolean;
}

/**
 * The frame rate.
 *
 * Evenly spaced time stamps decide for a constant rate, whose exact fraction is the stated one that agrees with
 * them. When spacing is uneven, or the average is another rate than the first seconds show, the rate is variable
 * and the average is given. With fewer than four time stamps the statements alone decide.
 *
 * @param timeS presentation times of the first packets in any order
 */
export function frameRate(timeS: readonly number[], stated: StatedRate): FrameRate {
  const base = ratio(stated.base);
  const average = ratio(stated.average);
  const spacing = spacingOf(timeS, stated.tickS);
  if (!spacing) {
    const isVariable =
      base !== null && average !== null && !sameRate(base, average) && !sameRate(base, 2 * average);
    return chosen(isVariable ? stated.average : (stated.base ?? stated.average), isVariable);
  }
  // Twenty seconds of even frames with another average: the rate changes later on, by more than the last frame's length can explain.
  const changesLater = average !== null && Math.abs(average / spacing.fps - 1) > 0.05;
  if (spacing.uneven || changesLater) {
    return chosen(average === null ? fractionOf(spacing.fps) : stated.average, true);
  }
  const agreeing = [stated.base, stated.average].find((text) => sameRate(ratio(text) ?? 0, spacing.fps));
  const halved = base !== null && sameRate(base / 2, spacing.fps) ? halfOf(stated.base) : undefined;
  return chosen(agreeing ?? halved ?? fractionOf(spacing.fps), false);
}

function spacingOf(timeS: readonly number[], tickS: number): { fps: number; uneven: boolean } | null {
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
  return { fps, uneven: odd.length > Math.max(1, UNEVEN_SHARE * gaps.length) };
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

function chosen(fraction: string | undefined, variableRate: boolean): FrameRate {
  const fps = ratio(fraction);
  return { fps: fps ?? 25, fpsFraction: fps === null ? '25/1' : (fraction ?? '25/1'), variableRate };
}
