/** Says in plain sentences what was wrong with the frames of a clip. */
import { median } from '../numerics/index.js';
import type { Warning } from '../run/index.js';
import { trackingTexts } from '../texts/index.js';
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

function cutWarnings({ records, events, stretch }: WarningFacts): Warning[] {
  const { cuts } = events;
  const range = trackingTexts.range(
    seconds(records[stretch.from].timeS),
    seconds(records[stretch.to - 1].timeS),
  );
  const warnings: Warning[] = [];
  if (cuts.length) {
    const where = cuts.slice(0, 5).map((k) => seconds(records[k].timeS));
    warnings.push({
      code: 'cut',
      text: trackingTexts.cuts(cuts.length, where, cuts.length > where.length, range),
      atS: records[cuts[0]].timeS,
    });
  }
  const breaks = stretch.breaks;
  if (breaks.length) {
    warnings.push({
      code: 'few-tracks',
      text: trackingTexts.breaks(breaks.length, seconds(records[breaks[0]].timeS), range),
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
      text: trackingTexts.frozen(
        seconds(records[first].timeS),
        seconds(records[last].timeS),
        last - first + 1,
      ),
      atS: records[first].timeS,
    });
  }
  const single = duplicates.filter((k) => !isFrozen(k));
  if (single.length) {
    warnings.push({
      code: 'duplicate-frames',
      text: trackingTexts.repeats(single.length, seconds(records[single[0]].timeS)),
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
      text: trackingTexts.tooDark(meanGrey.toFixed(0), contrastGrey.toFixed(0)),
      atS: null,
    });
  }
  if (isFew && !isDark) {
    warnings.push({
      code: 'no-texture',
      text: trackingTexts.noTexture(contrastGrey.toFixed(0)),
      atS: null,
    });
  }
  if (isFew) {
    warnings.push({
      code: 'few-tracks',
      text: trackingTexts.fewPoints(Math.round(live), targetTracks),
      atS: null,
    });
  }
  return warnings;
}
