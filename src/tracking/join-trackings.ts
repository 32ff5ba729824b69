/** One record of a clip out of those of its stretches, without the tracks themselves, for clips too long to be held at once. */
import { mean } from '../numerics/index.js';
import type { Warning } from '../run/index.js';
import type { Tracking } from './types.js';

/** A tracking without its tracks: frames, times and what was found of them. */
export function withoutTracks(tracking: Tracking): Tracking {
  return {
    ...tracking,
    table: {
      ...tracking.table,
      trackCount: 0,
      trackStart: Int32Array.of(0),
      obsFrame: new Int32Array(0),
      xPx: new Float64Array(0),
      yPx: new Float64Array(0),
    },
  };
}

/** Frames of one stretch that the stretches before it do not have. */
interface NewFrames {
  readonly part: Tracking;
  /** First of them in the table of the stretch. */
  readonly from: number;
}

/**
 * Joins the records of stretches, in order of time; frames that two of them have are counted once, as the earlier one saw them.
 *
 * Events keep the frame numbers of their own stretch's table only as a count: they are numbered on from the frames before. Of warnings
 * of one code the first is kept.
 *
 * @param parts at least one; neighbours may share frames, told by their time stamps
 */
export function joinTrackings(parts: readonly Tracking[]): Tracking {
  if (parts.length === 1) return parts[0];
  const [first] = parts;
  let latestS = -Infinity;
  const news: NewFrames[] = parts.map((part) => {
    const { timeS } = part.table;
    const at = timeS.findIndex((stampS) => stampS > latestS);
    latestS = Math.max(latestS, timeS.at(-1) ?? -Infinity);
    return { part, from: at < 0 ? timeS.length : at };
  });
  const columns = (of: (one: Tracking) => Float64Array, width = 1): Float64Array =>
    concat(news.map(({ part, from }) => of(part).subarray(width * from)));
  const timeS = columns(({ table }) => table.timeS);
  const { bands } = first.levels;
  const weights = news.map(({ part, from }) => part.table.frameCount - from);
  const meanOf = (of: (one: Tracking) => number): number =>
    weights.reduce((sum, weight, k) => sum + weight * of(parts[k]), 0) / Math.max(timeS.length, 1);
  const noise = parts.flatMap(({ noisePx }) => (noisePx === null ? [] : [noisePx ** 2]));
  return {
    table: { ...withoutTracks(first).table, frameCount: timeS.length, timeS },
    events: eventsOf(news),
    liveCount: Int32Array.from(columns(({ liveCount }) => Float64Array.from(liveCount))),
    coverage: meanOf(({ coverage }) => coverage),
    noisePx: noise.length > 0 ? Math.sqrt(mean(noise)) : null,
    refinedShare: meanOf(({ refinedShare }) => refinedShare),
    interCoded: parts.some(({ interCoded }) => interCoded) || first.interCoded,
    meanGrey: meanOf(({ meanGrey }) => meanGrey),
    contrastGrey: meanOf(({ contrastGrey }) => contrastGrey),
    levels: { timeS, bands, mean: columns(({ levels }) => levels.mean, bands) },
    copied: copiedOf(parts),
    light: lightOf(
      news,
      timeS,
      meanOf(({ light }) => light.toldShare),
    ),
    warnings: firstOfEach(parts.flatMap(({ warnings }) => warnings)),
  };
}

function concat(columns: readonly Float64Array[]): Float64Array {
  const whole = new Float64Array(columns.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const column of columns) {
    whole.set(column, at);
    at += column.length;
  }
  return whole;
}

/** Events past the shared frames of each stretch, numbered on. */
function eventsOf(news: readonly NewFrames[]): Tracking['events'] {
  const cuts: number[] = [];
  const duplicates: number[] = [];
  const frozen: [number, number][] = [];
  let before = 0;
  for (const { part, from } of news) {
    const move = (frame: number): number => before + frame - from;
    cuts.push(...part.events.cuts.filter((frame) => frame >= from).map(move));
    duplicates.push(...part.events.duplicates.filter((frame) => frame >= from).map(move));
    for (const [one, last] of part.events.frozen) if (one >= from) frozen.push([move(one), move(last)]);
    before += part.table.frameCount - from;
  }
  return { cuts, duplicates, frozen };
}

/** The course of the light, each stretch set on where the one before it stood at their first new frame. */
function lightOf(news: readonly NewFrames[], timeS: Float64Array, toldShare: number): Tracking['light'] {
  const levelLn = new Float64Array(timeS.length);
  const levelGrey = new Float64Array(timeS.length);
  let at = 0;
  for (const { part, from } of news) {
    const { light } = part;
    const shared = Math.max(from - 1, 0);
    const liftLn = at > 0 ? levelLn[at - 1] - (light.levelLn[shared] ?? 0) : 0;
    const liftGrey = at > 0 ? levelGrey[at - 1] - (light.levelGrey[shared] ?? 0) : 0;
    for (let k = from; k < light.levelLn.length; k++, at++) {
      levelLn[at] = light.levelLn[k] + liftLn;
      levelGrey[at] = light.levelGrey[k] + liftGrey;
    }
  }
  return { timeS, levelLn, levelGrey, toldShare };
}

/** Mean over the stretches that tell, each by its frames; steps of the size that most of them met. */
function copiedOf(parts: readonly Tracking[]): Tracking['copied'] {
  const told = parts.flatMap(({ copied, table }) =>
    copied ? [{ ...copied, frames: table.frameCount }] : [],
  );
  if (told.length === 0) return null;
  const frames = told.reduce((sum, one) => sum + one.frames, 0);
  const quarters = told.filter(({ perPx }) => perPx === 4).length;
  return {
    likeness: told.reduce((sum, one) => sum + one.frames * one.likeness, 0) / frames,
    perPx: 2 * quarters >= told.length ? 4 : 2,
  };
}

function firstOfEach(warnings: readonly Warning[]): Warning[] {
  return warnings.filter(({ code }, k) => warnings.findIndex((one) => one.code === code) === k);
}
