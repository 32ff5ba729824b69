/**
 * Heights along a floor as its joints, bumps and dips lie there and as wheels meet them: metres, smoothed by the contact and
 * averaged over the way of an exposure.
 *
 * A wheel climbs a step along its own circle, over sqrt(2 r h). The contact patch smooths as a bell. Own derivation.
 */
import type { PredictedEvent } from './types.js';

/** Spacing of the heights along the run, metres: well below the way of any exposure that matters. */
const SPACING_M = 0.001;
/** Longer runs are laid out more coarsely. */
const MOST_POINTS = 200_000;
/** Radius of a wheel of the pass when only its ratio to others is known, metres; only the steps' rise depends on it. */
const USUAL_RADIUS_M = 0.05;
/** Floor laid out before and after the run, metres: room for blur, bells and the rise of a step. */
const MARGIN_M = 0.3;
/** The bell is cut off after so many standard deviations. */
const BELL_REACH = 4;

/** How the heights are met. */
export interface Meeting {
  /** Stretch that the axles see, metres. */
  readonly fromM: number;
  readonly toM: number;
  /** Diameter over that of the wheels that showed the events. */
  readonly diameterFactor: number;
  /** Half-power wavenumber of the contact. */
  readonly contactCyclesPerM: number;
  /** Way within an exposure, metres. */
  readonly blurM: number;
}

/** Heights that axles show at a place, level beyond the stretch. */
export interface LaidLines {
  /** Of the mean of both wheel lines. */
  readonly meanM: (atM: number) => number;
  /** Left minus right; null where no event shows its sides. */
  readonly differenceM: ((atM: number) => number) | null;
}

/**
 * Lays the events out under both wheel lines: each wheel climbs and leaves by the sign of its own step. An event that does not show its
 * sides lies under both alike.
 */
export function laidLines(events: readonly PredictedEvent[], meeting: Meeting): LaidLines {
  if (!events.some(({ differenceM }) => differenceM !== null))
    return { meanM: laidHeights(events, meeting), differenceM: null };
  const line = (side: 1 | -1): ((atM: number) => number) =>
    laidHeights(
      events.map((event) => ({ ...event, heightM: event.heightM + (side * (event.differenceM ?? 0)) / 2 })),
      meeting,
    );
  const [left, right] = [line(1), line(-1)];
  return {
    meanM: (atM) => (left(atM) + right(atM)) / 2,
    differenceM: (atM) => left(atM) - right(atM),
  };
}

/** Lays the events out under one line. */
function laidHeights(events: readonly PredictedEvent[], meeting: Meeting): (atM: number) => number {
  const { diameterFactor, contactCyclesPerM } = meeting;
  const startM = meeting.fromM - MARGIN_M;
  const lengthM = meeting.toM - startM + MARGIN_M;
  const count = Math.max(1, Math.min(MOST_POINTS, Math.ceil(lengthM / SPACING_M)));
  const spacingM = lengthM / count;
  const heights = new Float64Array(count);
  for (const event of events) {
    const heightM = event.heightM * (event.kind === 'dip' ? 1 / diameterFactor : 1);
    addShape(
      heights,
      spacingM,
      { ...event, atM: event.atM - startM, heightM },
      USUAL_RADIUS_M * diameterFactor,
    );
  }
  const smooth = bellSmoothed(heights, spacingM, Math.sqrt(Math.LN2) / (2 * Math.PI * contactCyclesPerM));
  const sums = new Float64Array(count + 1);
  for (let i = 0; i < count; i++) sums[i + 1] = sums[i] + smooth[i];
  const sumTo = (x: number): number => {
    const place = Math.max(0, Math.min(count, x / spacingM));
    const i = Math.min(count - 1, Math.floor(place));
    return sums[i] + (place - i) * smooth[i];
  };
  const blurM = Math.max(spacingM, meeting.blurM);
  return (atM) => ((sumTo(atM - startM + blurM / 2) - sumTo(atM - startM - blurM / 2)) * spacingM) / blurM;
}

/** Adds one event as a wheel of that radius meets it. */
function addShape(
  heights: Float64Array,
  spacingM: number,
  { kind, atM, heightM, lengthM }: PredictedEvent,
  radiusM: number,
): void {
  const riseM = Math.sqrt(2 * radiusM * Math.abs(heightM));
  for (let i = 0; i < heights.length; i++) {
    // Middle of the cell, seen from the event.
    const x = (i + 0.5) * spacingM - atM;
    if (kind === 'step' || kind === 'joint') {
      // Up: the circle reaches the upper plate before the edge; down: it leaves it after.
      const beyond = heightM > 0 ? x : -x;
      const climbed = beyond >= 0 ? 1 : beyond <= -riseM ? 0 : 1 - (beyond / riseM) ** 2;
      heights[i] += heightM > 0 ? heightM * climbed : heightM * (1 - climbed);
    } else {
      const share = Math.abs(x) / Math.max(lengthM / 2, spacingM);
      if (share >= 1) continue;
      heights[i] += heightM * (kind === 'bump' ? (1 + Math.cos(Math.PI * share)) / 2 : 1 - share);
    }
  }
}

function bellSmoothed(heights: Float64Array, spacingM: number, sdM: number): Float64Array {
  const reach = Math.ceil((BELL_REACH * sdM) / spacingM);
  const bell = Float64Array.from({ length: 2 * reach + 1 }, (_, j) =>
    Math.exp(-0.5 * (((j - reach) * spacingM) / sdM) ** 2),
  );
  const total = bell.reduce((sum, value) => sum + value, 0);
  const last = heights.length - 1;
  return heights.map((_, i) => {
    let sum = 0;
    for (let j = -reach; j <= reach; j++)
      sum += bell[j + reach] * heights[Math.max(0, Math.min(last, i + j))];
    return sum / total;
  });
}
