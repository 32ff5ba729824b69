/**
 * How the hits in the crop of longer takes and the list of bumps go together. A hit is a kick of the picture that stands out of the shake
 * around it, with the passing of both axles paired; which bump an axle was over at that moment says what made it. Seconds.
 */
import { findHits } from '../../stabilise/index.js';
import { floorTexts } from '../../texts/index.js';
import { worstFirst } from '../floor-words.js';
import type { ReportBundle } from '../types.js';

/** From the beginning of the frames that a hit shakes to the peak of its kick. */
const BEFORE_S = 0.2;
/** A kick whose peak is this near to the passing of an axle is that axle's. */
const WITHIN_S = 0.12;

/** One sentence; null where there is neither a hit nor a bump. */
export function hitsSentence(bundle: ReportBundle): string | null {
  const { surface, stabilise } = bundle.run;
  const { hitsSeen } = stabilise;
  const all = surface.bumps.length;
  if (all === 0) return hitsSeen === 0 ? null : floorTexts.hitsWithoutBumps(hitsSeen);
  if (hitsSeen === 0) return floorTexts.noHits(all);
  const numbers = bumpsOfHits(bundle);
  return numbers === null ? floorTexts.otherHits(hitsSeen) : floorTexts.hits(hitsSeen, numbers, all);
}

/**
 * Numbers in the list of the bumps that made the hits, ascending.
 *
 * @returns null when the hits cannot be found again as they were counted, or one of them is at no bump of the list
 */
export function bumpsOfHits({ run, motion, stabilisation }: ReportBundle): number[] | null {
  const { wheelbaseM, speedMps } = run.rig;
  const { pan, tilt, roll } = stabilisation.corrections.vibration;
  const echoS = wheelbaseM === undefined || speedMps === undefined ? undefined : wheelbaseM / speedMps;
  const hits = findHits([pan, tilt, roll], motion.rateHz, echoS);
  if (hits.length !== run.stabilise.hitsSeen) return null;
  const passages = worstFirst(run.surface.bumps).flatMap(({ axlesS }, i) =>
    axlesS.map((atS) => ({ atS, number: i + 1 })),
  );
  const made = hits.map(({ spans }) => {
    const kicks = spans.map(({ from }) => (stabilisation.timeS[from] ?? NaN) + BEFORE_S);
    const near = passages
      .map(({ atS, number }) => ({ number, off: Math.min(...kicks.map((kick) => Math.abs(kick - atS))) }))
      .sort((a, b) => a.off - b.off)
      .at(0);
    return near !== undefined && near.off <= WITHIN_S ? near.number : null;
  });
  return made.some((number) => number === null)
    ? null
    : [...new Set(made.flatMap((number) => number ?? []))].sort((a, b) => a - b);
}
