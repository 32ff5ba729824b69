/** The lanes of one floor against each other and along their length: shake of the picture before stabilising, px RMS of the delivery. */
import type { PictureSize } from '../../optics/index.js';
import type { LanePlan } from '../../run/index.js';
import type { ComparedPass, Spreads } from '../compare/types.js';
import { evenPasses } from './even-setups.js';
import { lanePassesOf } from './lane-pass.js';
import { placesOfPass } from './lane-places.js';
import { avoidSentence, bestSentence, planNotes, steadySentence } from './lane-words.js';
import { commonView } from './picture-shake.js';
import { rankLanes, type LaneFigure } from './rank-lanes.js';
import { laneCurve, windowOf } from './shake-along.js';
import { commonJoints, roughStretches, steadiestStretch } from './stretches.js';

/** What a plan takes from the comparison that it belongs to. */
export interface LanePlanOptions {
  readonly floor?: string | null;
  /** Focal length over picture width that all passes are looked at through; the longest of the passes when missing. */
  readonly focalPerWidth?: number | null;
  /** Of the first pass when missing. */
  readonly delivery?: PictureSize;
}

/** Joints of two passes this near to each other are one, metres. */
const SAME_JOINT_M = 0.1;

/**
 * The plan of a floor.
 *
 * Places are those of the rear axle, counted from where the passes out begin; all passes of a lane are taken to begin at one mark,
 * and passes back where passes out end. With several setups the figures are of the one that was run on most lanes, see `evenPasses`.
 *
 * @param passes of one floor, each with the name of its lane
 * @param spreads what one pass cannot show, see `rankLanes`
 * @returns null with fewer than two passes that can be placed, or with one that could not be measured alone
 */
export function lanePlan(
  passes: readonly ComparedPass[],
  spreads: Spreads,
  options: LanePlanOptions = {},
): LanePlan | null {
  const measured = passes.filter(({ grade }) => grade !== 'unmeasurable');
  if (measured.length < 2) return null;
  const view = commonView(
    measured.map(({ pass }) => pass),
    options,
  );
  const metric = measured.every(({ pass }) => placesOfPass(pass).metric);
  const along = [...new Set(measured.map(({ lane }) => lane))].flatMap((name) =>
    lanePassesOf(
      measured.filter(({ lane }) => lane === name),
      view,
      metric,
    ),
  );
  if (along.length < 2) return null;

  const even = evenPasses(along);
  const ranking = rankLanes(even, spreads);
  const windowM = windowOf(even.passes, metric);
  const lanes = ranking.lanes.map((figure, rank) => {
    const own = even.passes.filter(({ compared }) => compared.lane === figure.name);
    const curve = laneCurve(own, own.map(even.excess), windowM);
    const joints = commonJoints(
      own.map((pass) => pass.joints),
      SAME_JOINT_M,
    );
    const frontAheadM = Math.max(...own.map((pass) => pass.frontAheadM));
    const stretches = roughStretches(curve, joints, { repeated: own.length > 1, frontAheadM, windowM });
    const directions = new Set(own.flatMap(({ compared: { direction } }) => direction ?? []));
    return {
      stretches,
      steadiest: steadiestStretch(curve),
      section: {
        name: figure.name,
        rank: rank + 1,
        runs: own.map(({ compared }) => compared.place),
        directions: [...directions].sort().reverse(),
        lengthM: Math.max(...own.map(({ wayM }) => wayM)),
        shakePx: shakeOf(figure),
        places: { atM: curve.atM, shakePx: curve.squares.map(Math.sqrt) },
        joints: joints.map(({ atM, heightMm }) => ({ atM, heightMm })),
        avoid: stretches.map((stretch) => ({ ...stretch, joints: stretch.joints.length })),
      },
    };
  });

  const best = bestSentence(ranking, even);
  const sheets = new Set(along.map(({ compared }) => compared.setup));
  const [first] = lanes;
  const steady = first.steadiest && steadySentence(first.section.name, first.steadiest, metric);
  const sentences = [
    best.sentence,
    ...(steady === null ? [] : [steady]),
    ...planNotes(even, sheets.size > 1),
  ];
  return {
    floor: options.floor ?? null,
    setup: even.setup,
    ...{ metric, windowM },
    lanes: lanes.map(({ section }) => section),
    best: { lane: best.lane, sentence: sentences.join(' ') },
    avoid: avoidSentence(
      lanes.map(({ section, stretches }) => ({ name: section.name, stretches })),
      metric,
    ),
  };
}

function shakeOf({ lnRms, halfRange, hidden }: LaneFigure): LanePlan['lanes'][number]['shakePx'] {
  const value = Math.exp(lnRms);
  return { value, low: hidden ? 0 : value * Math.exp(-halfRange), high: value * Math.exp(halfRange) };
}
