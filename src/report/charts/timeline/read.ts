/** What stands on the time line at a time: the time in words, and each axis' value with its unit or that noise hides it. */
import { figure } from '../../../run/index.js';
import { motionTexts } from '../../../texts/index.js';
import type { ReadValue, Reading } from '../live/types.js';
import { timecodeAt } from '../timecode-at.js';
import { placeAt, timeOf, type TimelineCurve, type TimelineData } from './data.js';
import type { TimelineRow } from './layout.js';
import { storedBefore, valueScale } from './rows.js';

/** A joint or bump is told at times this near, as a share of what is shown. */
const NEAR = 0.006;

/** Reads the nearest sample. @param shownS length of what is shown, seconds */
export function readTimeline(
  data: TimelineData,
  rows: readonly TimelineRow[],
  at: number,
  shownS: number,
): Reading | null {
  if (data.count === 0) return null;
  const sample = Math.max(0, Math.min(data.count - 1, Math.round((at - data.fromS) * data.rateHz)));
  const atS = timeOf(data, sample);
  return { at: atS, place: placeWords(data, atS, shownS), values: rows.map((row) => valueOf(row, sample)) };
}

function placeWords({ clip, places, marks }: TimelineData, atS: number, shownS: number): string {
  const parts = [`${Math.max(0, atS).toFixed(2)} s`, timecodeAt(clip, atS)];
  if (places !== null) parts.push(`${Math.abs(placeAt(places, atS)).toFixed(2)} ${places.unit}`);
  const near = marks.filter(({ atS: there }) => Math.abs(there - atS) <= Math.max(0.02, NEAR * shownS));
  return [...parts, ...near.map(({ axle, mark, name }) => motionTexts.markRead(axle, mark, name))].join(', ');
}

function valueOf({ axis, plot }: TimelineRow, sample: number): ReadValue {
  const { id, name, unit, curve, quietWords } = axis;
  if (curve === null || plot === null) return { id, text: `${name} ${quietWords}`, yPx: null };
  const value = valueAt(curve, sample);
  const yPx = valueScale(curve, plot)(value);
  if (Math.abs(value) <= 2 * curve.noise) return { id, text: `${name} ${motionTexts.belowNoiseRead}`, yPx };
  const sign = value < 0 ? '−' : '+';
  const gap = unit.startsWith('°') ? '' : ' ';
  return { id, text: `${name} ${sign}${figure(Math.abs(value))}${gap}${unit}`, yPx };
}

/** As drawn: between stored samples along the line that joins them. */
function valueAt({ at, shake }: TimelineCurve, sample: number): number {
  const low = Math.max(0, storedBefore(at, sample));
  if (at === null || low >= shake.length - 1) return shake[Math.min(low, shake.length - 1)];
  const share = (sample - at[low]) / (at[low + 1] - at[low]);
  return shake[low] + share * (shake[low + 1] - shake[low]);
}
