/** The lanes of a floor in plain sentences. */
import { figure } from '../../run/index.js';
import type { EvenPasses } from './even-setups.js';
import type { LaneRanking } from './rank-lanes.js';
import type { RoughStretch } from './stretches.js';

/** Rough stretches that get a sentence of their own. */
const TOLD = 3;

/** A lane as it is spoken of. @example laneName('2') // "lane 2" */
export function laneName(name: string): string {
  return /\b(lane|line|rail|row|track)\b/i.test(name) ? name : `lane ${name}`;
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
    const each = confounded.map(
      ({ lane, setups }) => `only ${laneName(lane)} was run with ${listed(setups)}`,
    );
    return {
      lane: null,
      sentence: `Lanes and setups cannot be told apart here: ${listed(each)}. Each lane is shown with its own setup; to rank the lanes, roll one setup on every lane.`,
    };
  }
  const [first, second] = lanes;
  if (second === undefined)
    return {
      lane: null,
      sentence: `Only ${laneName(first.name)} was run, so no lane is better than another.`,
    };
  const ranks = lanes.map((_, rank) => rank).slice(1);
  const alike = ranks.filter((rank) => !clearlyWorse(rank));
  const worse = ranks.filter(clearlyWorse);
  const { ln, halfRange } = ratio(1);
  if (alike.length === 0) {
    const atLeast = first.hidden ? 'at least ' : '';
    const times = figure(Math.exp(ln));
    const range = `${figure(Math.exp(ln - halfRange))} to ${figure(Math.exp(ln + halfRange))}`;
    return {
      lane: first.name,
      sentence: `${capital(laneName(first.name))} is the steadiest: ${laneName(second.name)} shakes the picture ${atLeast}${times} times as much (${range}).`,
    };
  }
  const names = [0, ...alike].map((rank) => laneName(lanes[rank].name)).sort(byName);
  const tail =
    worse.length > 0
      ? ` ${capital(laneName(first.name))} is clearly steadier than ${listed(worse.map((rank) => laneName(lanes[rank].name)))}.`
      : '';
  const spread =
    alike[0] === 1
      ? ` ${capital(laneName(second.name))} may shake anything from ${againstFirst(ln - halfRange)} to ${againstFirst(ln + halfRange)} than ${laneName(first.name)}.`
      : '';
  return { lane: null, sentence: `No clear difference between ${listed(names)}.${spread}${tail}` };
}

/** What was taken for granted on the way, as sentences to go behind the others. */
export function planNotes(even: EvenPasses, namesSetup: boolean): string[] {
  const notes = even.setup === null ? [] : setupNotes(even.setup, even, namesSetup);
  const directions = new Set(even.passes.map(({ compared }) => compared.direction));
  if (directions.has('back') && directions.size > 1)
    notes.push('Passes back are taken to begin where passes out ended.');
  return notes;
}

function setupNotes(setup: string, { others, leftOut }: EvenPasses, namesSetup: boolean): string[] {
  const notes: string[] = [];
  if (others.length > 0)
    notes.push(
      `Figures are with ${setup}; passes with ${listed(others)} count after what they shake more or less is taken off.`,
    );
  else if (namesSetup) notes.push(`Only passes with ${setup} count.`);
  if (leftOut.length > 0)
    notes.push(
      `${capital(listed(leftOut.map(laneName)))} ${leftOut.length > 1 ? 'were' : 'was'} not run with ${setup} and ${leftOut.length > 1 ? 'are' : 'is'} left out; roll one setup on every lane to rank them all.`,
    );
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
  if (more > 0)
    told.push(`${more} more such ${more > 1 ? 'stretches are' : 'stretch is'} marked on the plan.`);
  return told.join(' ');
}

function keepOff(name: string, { fromM, toM, timesUsual, joints }: RoughStretch, metric: boolean): string {
  const place = metric
    ? `${metres(fromM)} to ${metres(toM)} m of ${laneName(name)}`
    : `the part from ${percent(fromM)} to ${percent(toM)} % of ${laneName(name)}`;
  const named = joints
    .slice(0, 2)
    .map(({ atM, heightMm, kind }) => `${kind} of ${figure(heightMm)} mm at ${metres(atM)} m`);
  const rest = joints.length > named.length ? [`${joints.length - named.length} more`] : [];
  return `Keep off ${place}: ${[`${figure(timesUsual)} times the usual shake`, ...named, ...rest].join(', ')}.`;
}

/** Where the steadiest half of a lane begins. */
export function steadySentence(
  name: string,
  stretch: { readonly fromM: number; readonly lengthM: number },
  metric: boolean,
): string {
  return metric
    ? `The steadiest ${figure(stretch.lengthM)} m of ${laneName(name)} begin at ${metres(stretch.fromM)} m.`
    : `The steadiest half of ${laneName(name)} begins at ${percent(stretch.fromM)} % of the pass.`;
}

function metres(placeM: number): string {
  return (Math.abs(placeM) < 0.05 ? 0 : placeM).toFixed(1);
}

function percent(share: number): string {
  return (100 * share).toFixed(0);
}

function againstFirst(ln: number): string {
  const percentOff = 100 * Math.abs(Math.expm1(ln));
  return `${percentOff.toFixed(0)} % ${ln < 0 ? 'less' : 'more'}`;
}

function listed(names: readonly string[]): string {
  return names.length < 2
    ? (names[0] ?? '')
    : `${names.slice(0, -1).join(', ')} and ${names[names.length - 1]}`;
}

function byName(a: string, b: string): number {
  return a.localeCompare(b, 'en', { numeric: true });
}

function capital(text: string): string {
  return text.slice(0, 1).toUpperCase() + text.slice(1);
}
