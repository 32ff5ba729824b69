/** Says in plain sentences what was wrong with the frames of a clip. */
import { median } from '../numerics/index.js';
import type { Warning } from '../run/index.js';
import type { Stretch } from './cuts.js';
import type { FrameRecord } from './frame-record.js';
import type { FrameEvents } from './types.js';

/** What the warnings are made from. */
export interface WarningFacts {
  readonly records: readonly FrameRecord[];
  readonly events: FrameEvents;
  readonly stretch: Stretch;
  readonly liveCount: Int32Array;
  readonly targetTracks: number;
  readonly meanGrey: number;
  readonly contrastGrey: number;
}

/** Below this share of the wanted tracks, half the time, figures become noticeably worse. */
const FEW_TRACKS_SHARE = 0.3;

/** Mean grey (0..255) below which darkness is named as the cause when tracks are few. */
const DARK_GREY = 24;

/** Mean grey below which a clip is called dark even when it can be followed: about 2.5 % of full scale. */
const VERY_DARK_GREY = 6;

/** All warnings, in the order a reader needs them: what is measured, what was left out, how well it could be followed. */
export function trackingWarnings(facts: WarningFacts): Warning[] {
  const { records } = facts;
  if (records.length === 0) return [];
  return [...cutWarnings(facts), ...repeatWarnings(facts), ...pictureWarnings(facts)];
}

function seconds(timeS: number): string {
  return `${timeS.toFixed(2)} s`;
}

function count(n: number, one: string, many: string): string {
  return n === 1 ? `1 ${one}` : `${n} ${many}`;
}

function cutWarnings({ records, events, stretch }: WarningFacts): Warning[] {
  const { cuts } = events;
  const range = `from ${seconds(records[stretch.from].timeS)} to ${seconds(records[stretch.to - 1].timeS)}`;
  const warnings: Warning[] = [];
  if (cuts.length) {
    const where = cuts.slice(0, 5).map((k) => seconds(records[k].timeS));
    const more = cuts.length > where.length ? ' and later' : '';
    warnings.push({
      code: 'cut',
      text:
        `The clip holds ${count(cuts.length, 'hard cut', 'hard cuts')} (at ${where.join(', ')}${more}); ` +
        `only the longest stretch without a cut is measured, ${range}.`,
      atS: records[cuts[0]].timeS,
    });
  }
  const breaks = stretch.breaks;
  if (breaks.length) {
    warnings.push({
      code: 'few-tracks',
      text:
        `No points could be followed across ${count(breaks.length, 'frame', 'frames')}, first at ` +
        `${seconds(records[breaks[0]].timeS)}: a very fast move, a flash or a dark or empty picture; ` +
        `only the longest stretch that holds together is measured, ${range}.`,
      atS: records[breaks[0]].timeS,
    });
  }
  return warnings;
}

function repeatWarnings({ records, events }: WarningFacts): Warning[] {
  const { duplicates, frozen } = events;
  const warnings: Warning[] = [];
  const isFrozen = (k: number): boolean => frozen.some(([first, last]) => k >= first && k <= last);
  for (const [first, last] of frozen) {
    warnings.push({
      code: 'frozen-frames',
      text:
        `The picture is frozen from ${seconds(records[first].timeS)} to ${seconds(records[last].timeS)} ` +
        `(${count(last - first + 1, 'frame', 'frames')}); these frames are left out.`,
      atS: records[first].timeS,
    });
  }
  const single = duplicates.filter((k) => !isFrozen(k));
  if (single.length) {
    warnings.push({
      code: 'duplicate-frames',
      text:
        `${count(single.length, 'frame repeats', 'frames repeat')} the one before, first at ` +
        `${seconds(records[single[0]].timeS)}; left out. A clip converted from another frame rate does this: ` +
        'use the original when there is one.',
      atS: records[single[0]].timeS,
    });
  }
  return warnings;
}

function pictureWarnings({ liveCount, targetTracks, meanGrey, contrastGrey }: WarningFacts): Warning[] {
  const live = liveCount.length ? median(Float64Array.from(liveCount)) : 0;
  const isFew = live < FEW_TRACKS_SHARE * targetTracks;
  const warnings: Warning[] = [];
  const isDark = (isFew && meanGrey < DARK_GREY) || meanGrey < VERY_DARK_GREY;
  if (isDark) {
    warnings.push({
      code: 'too-dark',
      text:
        `The picture is very dark (mean grey ${meanGrey.toFixed(0)} of 255, contrast ${contrastGrey.toFixed(0)}); ` +
        'light the floor and walls or open the lens.',
      atS: null,
    });
  }
  if (isFew && !isDark) {
    warnings.push({
      code: 'no-texture',
      text:
        `Too little in the picture can be followed (contrast ${contrastGrey.toFixed(0)} of 255); ` +
        'frame something with detail, or stick marks on plain walls.',
      atS: null,
    });
  }
  if (isFew) {
    warnings.push({
      code: 'few-tracks',
      text: `Only ${count(Math.round(live), 'point', 'points')} could be followed at a time, of ${targetTracks} wanted.`,
      atS: null,
    });
  }
  return warnings;
}
