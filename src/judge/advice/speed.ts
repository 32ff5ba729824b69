/** Another speed: the range in m/s over which crop and shake left keep their limits, and speeds at which a mount would ring. */
import { figure } from '../../run/index.js';
import { speedAdviceTexts } from '../../texts/index.js';
import { smoothingFits } from '../../stabilise/index.js';
import { applyChanges } from '../changes/apply-changes.js';
import { isRefused, type ChangedMotion, type RefusedChange } from '../changes/types.js';
import { changesOf, speedOf } from '../what-if/setting.js';
import { byMotion, shareOfMotion, stepWhenItHelps, type Present } from './present.js';
import { speedsToKeepOff } from './ringing.js';
import type { ForetoldStep } from './step.js';

/** Speeds looked at, as factors of the one that was rolled; spaced evenly by ratio. */
const SPEED_FACTORS = { slowest: 0.4, fastest: 2.5, count: 13, coarseCount: 5 } as const;
/** Halvings of the last step at each edge of the range: edges are known to 1 per cent, coarsely to a fifth. */
const HALVINGS = { fine: 4, coarse: 1 } as const;
/** Below this ratio of its edges a range is told as one speed. */
const NARROW = 1.1;

interface Scanned {
  readonly speedMps: number;
  readonly changed: ChangedMotion;
}

/** The speeds that keep the limits, told with what the middle one brings; the best speed where none does. */
export function speedSteps(present: Present): ForetoldStep[] | RefusedChange {
  const nowMps = speedOf(present.pass);
  if (nowMps === undefined) return { refused: speedAdviceTexts.notKnown };
  const answers = scanSpeeds(nowMps, present.coarse).map((speedMps) => at(present, speedMps));
  const scanned = answers.filter((one): one is Scanned => !('refused' in one));
  if (scanned.length === 0) return answers.find((one): one is RefusedChange => 'refused' in one) ?? [];
  const range = meetingRange(present, scanned, nowMps);
  const best = asTold(present, range?.middle ?? leastShaking(present, scanned));
  const [lowMps, highMps] = range === null ? [best.speedMps, best.speedMps] : range.edges;
  return stepWhenItHelps(present, byMotion(present, best.changed), {
    code: 'other-speed',
    text: rollAt(lowMps, highMps, nowMps, speedsToKeepOff(present.pass, nowMps, [lowMps, highMps])),
    lead: speedAdviceTexts.lead(figure(best.speedMps)),
    effort: 'speed',
  });
}

/** Even ratios from two fifths to two and a half times, the present speed in their middle. */
export function scanSpeeds(nowMps: number, coarse = false): number[] {
  const { slowest, fastest } = SPEED_FACTORS;
  const count = coarse ? SPEED_FACTORS.coarseCount : SPEED_FACTORS.count;
  return Array.from({ length: count }, (_, i) => nowMps * slowest * (fastest / slowest) ** (i / (count - 1)));
}

function at(present: Present, speedMps: number): Scanned | RefusedChange {
  const changes = changesOf(present.pass, { speedMps });
  const changed = changes.length === 0 ? present.measured : applyChanges(present.pass, changes);
  if (isRefused(changed)) return changed;
  const { mode, smoothingS } = present.pass.choice;
  // Slower, the samples of the pass lie further apart than a weak smoothing looks.
  return mode !== 'keepMove' || smoothingS === null || smoothingFits(changed.expected, smoothingS)
    ? { speedMps, changed }
    : { refused: speedAdviceTexts.smoothingDoesNotFit };
}

/** The speed as it is printed, so that whoever asks for that speed gets the same figures. */
function asTold(present: Present, found: Scanned): Scanned {
  const told = at(present, Number(figure(found.speedMps)));
  return 'refused' in told ? found : told;
}

function leastShaking(present: Present, scanned: readonly Scanned[]): Scanned {
  return scanned
    .map((one) => ({ one, share: shareOfMotion(present, one.changed.expected) }))
    .reduce((a, b) => (b.share < a.share ? b : a)).one;
}

interface MeetingRange {
  readonly edges: readonly [number, number];
  readonly middle: Scanned;
}

/**
 * The run of scanned speeds that is expected to keep the limits and lies nearest to the present one, its edges found by halving. The
 * upper end of the prediction cannot decide: one pass does not tell what a machine shakes, which is the same at any speed.
 */
function meetingRange(present: Present, scanned: readonly Scanned[], nowMps: number): MeetingRange | null {
  const meets = (one: Scanned | RefusedChange): one is Scanned =>
    !('refused' in one) && shareOfMotion(present, one.changed.expected) <= 1;
  const met = scanned.map(meets);
  const off = (i: number): number => Math.abs(Math.log(scanned[i].speedMps / nowMps));
  const [nearest] = [...scanned.keys()].filter((i) => met[i]).sort((a, b) => off(a) - off(b));
  if (nearest === undefined) return null;
  let first = nearest;
  while (met[first - 1]) first--;
  let last = nearest;
  while (met[last + 1]) last++;
  const edge = (inside: Scanned, outside: Scanned | undefined): number => {
    if (outside === undefined) return inside.speedMps;
    let [good, bad] = [inside.speedMps, outside.speedMps];
    for (let i = 0; i < (present.coarse ? HALVINGS.coarse : HALVINGS.fine); i++) {
      const middle = Math.sqrt(good * bad);
      if (meets(at(present, middle))) good = middle;
      else bad = middle;
    }
    return good;
  };
  const edges = [edge(scanned[first], scanned[first - 1]), edge(scanned[last], scanned[last + 1])] as const;
  const middle = at(present, Math.sqrt(edges[0] * edges[1]));
  return { edges, middle: meets(middle) ? middle : scanned[nearest] };
}

/** Edges rounded inwards to two digits, so that what is printed lies in the range. */
function rollAt(lowMps: number, highMps: number, nowMps: number, keepOff: string): string {
  const [low, high] = [inwards(lowMps, Math.ceil), inwards(highMps, Math.floor)];
  const { roll } = speedAdviceTexts;
  return high > NARROW * low
    ? roll(figure(low), figure(high), figure(nowMps), keepOff)
    : roll(figure(Math.sqrt(lowMps * highMps)), null, figure(nowMps), keepOff);
}

function inwards(valueMps: number, round: (value: number) => number): number {
  const unit = 10 ** (Math.floor(Math.log10(valueMps)) - 1);
  return round(valueMps / unit - (round === Math.ceil ? 1e-9 : -1e-9)) * unit;
}
