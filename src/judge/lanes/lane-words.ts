/** The lanes of a floor in plain sentences. */
import { figure } from '../../run/index.js';
import { laneTexts } from '../../texts/index.js';
import type { EvenPasses } from './even-setups.js';
import type { LaneRanking } from './rank-lanes.js';
import type { RoughStretch } from './stretches.js';

/** Rough stretches that get a sentence of their own. */
const TOLD = 3;
/** Joints of a stretch that are told one by one. */
const NAMED_JOINTS = 2;

/** A lane as it is spoken of. @example laneName('2') // "lane 2" */
export function laneName(name: string): string {
  return laneTexts.name(name);
}

/** Which lane is best, or that none clearly is, or can be; names every lane that the best one does not clearly beat. */
export function bestSentence(
  { lanes, clearlyWorse, ratio }: LaneRanking,
  { confounded }: Pick<EvenPasses, 'confounded'>,
): {
  lane: string | null;
  sentence: string;
} {
  if (confounded !== null) {
    return { lane: null, sentence: laneTexts.cannotBeTold(confounded) };
  }
  const [first, second] = lanes;
  if (second === undefined)
    return {
      lane: null,
      sentence: laneTexts.onlyOne(first.name),
    };
  const ranks = lanes.map((_, rank) => rank).slice(1);
  const alike = ranks.filter((rank) => !clearlyWorse(rank));
  const worse = ranks.filter(clearlyWorse);
  const { ln, halfRange } = ratio(1);
  if (alike.length === 0) {
    const times = figure(Math.exp(ln));
    const range = [figure(Math.exp(ln - halfRange)), figure(Math.exp(ln + halfRange))] as const;
    return {
      lane: first.name,
      sentence: laneTexts.steadiest(first.name, second.name, times, range, first.hidden),
    };
  }
  const nameOf = (rank: number): string => lanes[rank].name;
  const names = [0, ...alike].map(nameOf).sort((a, b) => byName(laneName(a), laneName(b)));
  const ends = [againstFirst(ln - halfRange), againstFirst(ln + halfRange)] as const;
  const sentences = [
    laneTexts.noClearDifference(names),
    ...(alike[0] === 1 ? [laneTexts.mayShake(second.name, first.name, ...ends)] : []),
    ...(worse.length > 0 ? [laneTexts.clearlySteadier(first.name, worse.map(nameOf))] : []),
  ];
  return { lane: null, sentence: sentences.join(' ') };
}

/** What was taken for granted on the way, as sentences to go behind the others. */
export function planNotes(even: EvenPasses, namesSetup: boolean): string[] {
  const notes = even.setup === null ? [] : setupNotes(even.setup, even, namesSetup);
  const directions = new Set(even.passes.map(({ compared }) => compared.direction));
  if (directions.has('back') && directions.size > 1) notes.push(laneTexts.backBeginsWhereOutEnds);
  return notes;
}

function setupNotes(setup: string, { others, leftOut }: EvenPasses, namesSetup: boolean): string[] {
  const notes: string[] = [];
  if (others.length > 0) notes.push(laneTexts.figuresWith(setup, others));
  else if (namesSetup) notes.push(laneTexts.onlyPassesWith(setup));
  if (leftOut.length > 0) notes.push(laneTexts.leftOut(leftOut, setup));
  return notes;
}

/** Where to keep off, the roughest stretches first; null when nothing stands out. */
export function avoidSentence(
  lanes: readonly { readonly name: string; readonly stretches: readonly RoughStretch[] }[],
  metric: boolean,
): string | null {
  const all = lanes
    .flatMap(({ name, stretches }) => stretches.map((stretch) => ({ name, stretch })))
    .sort((a, b) => b.stretch.timesUsual - a.stretch.timesUsual);
  if (all.length === 0) return null;
  const told = all.slice(0, TOLD).map(({ name, stretch }) => keepOff(name, stretch, metric));
  const more = all.length - TOLD;
  if (more > 0) told.push(laneTexts.moreStretches(more));
  if (all.slice(0, TOLD).some(({ stretch }) => stretch.joints.length > 0))
    told.push(laneTexts.heightsAreMeans);
  return told.join(' ');
}

function keepOff(name: string, { fromM, toM, timesUsual, joints }: RoughStretch, metric: boolean): string {
  const place = metric
    ? laneTexts.stretchM(metres(fromM), metres(toM), name)
    : laneTexts.stretchPercent(percent(fromM), percent(toM), name);
  const named = joints
    .slice(0, NAMED_JOINTS)
    .map(({ atM, heightMm, kind }) => ({ kind, mm: figure(heightMm), m: metres(atM) }));
  return laneTexts.keepOff(place, figure(timesUsual), named, joints.length - named.length);
}

/** Where the steadiest half of a lane begins. */
export function steadySentence(
  name: string,
  stretch: { readonly fromM: number; readonly lengthM: number },
  metric: boolean,
): string {
  return metric
    ? laneTexts.steadiestM(figure(stretch.lengthM), name, metres(stretch.fromM))
    : laneTexts.steadiestHalf(name, percent(stretch.fromM));
}

function metres(placeM: number): string {
  return (Math.abs(placeM) < 0.05 ? 0 : placeM).toFixed(1);
}

function percent(share: number): string {
  return (100 * share).toFixed(0);
}

function againstFirst(ln: number): readonly [percent: string, course: 'less' | 'more'] {
  return [percent(Math.abs(Math.expm1(ln))), ln < 0 ? 'less' : 'more'];
}

function byName(a: string, b: string): number {
  return a.localeCompare(b, 'en', { numeric: true });
}
