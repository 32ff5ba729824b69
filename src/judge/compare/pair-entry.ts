/** Two setups as the comparison document tells them: every ratio in words, the headline, conditions, cost. */
import type { Axis, ComparedPair, ComparedRatio } from '../../run/index.js';
import { figure } from '../../run/index.js';
import { ratioTexts, type Counted } from '../../texts/index.js';
import { claimOf, lanesWith } from './design.js';
import { fairnessOf } from './conditions.js';
import { headline, type Bounds } from './headline.js';
import { clipKey, laneName } from './pass-identity.js';
import type { AskedOf, PairAnswers } from './pair-questions.js';
import type { PreparedPass } from './prepared-pass.js';
import { atMostOf, ratioEntry, type PairWords, type Places } from './ratio-entry.js';
import type { Spreads } from './types.js';
import { linesWithin } from './wavelength-band.js';

/** p of each answer for its whole family (Holm over all pairs), and how many the family asked. */
export interface FamilyP {
  readonly of: (asked: AskedOf) => number | null;
  readonly size: (asked: AskedOf) => number;
}

/** What lanes or floors are compared as; null where setups are. */
export function placesOf(by: string): Places | null {
  return by === 'lane' || by === 'floor' ? by : null;
}

/** The entry of a pair. @param all passes of the whole comparison, for names of lanes */
export function pairEntry(
  answers: PairAnswers,
  family: FamilyP,
  crop: ComparedPair['crop'],
  all: readonly PreparedPass[],
  { by, spreads }: { readonly by: string; readonly spreads: Spreads },
): ComparedPair {
  const { a, b, design, passes, wavelength } = answers;
  const sides = { a: comparedOf(passes.a), b: comparedOf(passes.b) };
  const { conditions, unfair } = fairnessOf(sides.a, sides.b, by);
  const places = placesOf(by);
  // Where lanes or floors are what differs, a result speaks of the stretches that were rolled, as far as one setup saw both.
  const claim =
    places === null ? claimOf(design) : design.design === 'ownLanes' ? 'nothing' : 'theseStretches';
  const words: PairWords = {
    // In quotes a name of many things still takes a verb: "soft tyres" is smoother.
    a: `"${a}"`,
    b: `"${b}"`,
    design: design.design,
    claim,
    counts: countsOf(answers, places),
    places,
    onePassEach: passes.a.length === 1 && passes.b.length === 1,
    passesFrom: spreads.betweenPassesFrom,
    sameClip: sameClips(answers),
  };
  const entry = (asked: AskedOf, what: string): ComparedRatio & { axis: Axis } => ({
    ...ratioEntry(asked.answer, what, family.of(asked), family.size(asked), words),
    axis: asked.axis,
  });
  const axes = [...answers.angles, ...answers.translation].map((asked) => entry(asked, asked.axis));
  const why = [...unfair, ...sharedClips(answers), ...confounded(claim, places)];
  const names = new Map(all.map(({ compared }) => [compared, laneName(compared, comparedOf(all))]));
  return {
    a,
    b,
    design: design.design,
    lanes: [...new Set([...sides.a, ...sides.b].map((compared) => names.get(compared) ?? compared.lane))],
    passes: { a: passes.a.length, b: passes.b.length },
    claim,
    sentence: headline(axes, words, why, boundsOf(answers, words)),
    conditions,
    fair: why.length === 0,
    unfair: why,
    alike: { ...answers.alike },
    axes,
    wavelength: wavelength && {
      bandM: wavelength.bandM && [...wavelength.bandM],
      refused: wavelength.refused,
      axes: wavelength.answers.map((asked) => {
        const ratio = entry(asked, ratioTexts.inWavelengths(asked.axis));
        return { ...ratio, sentence: [ratio.sentence, takenOut(answers, asked.axis)].join(' ').trim() };
      }),
    },
    bands: answers.bands.flatMap((asked) => (asked.band ? [bandEntry(asked, asked.band, entry)] : [])),
    crop,
  };
}

function boundsOf({ angles }: PairAnswers, words: PairWords): Bounds {
  return new Map(
    angles.flatMap(({ axis, answer }): [Axis, string][] => {
      const atMost = atMostOf(answer, words);
      return atMost === null ? [] : [[axis, atMost]];
    }),
  );
}

const comparedOf = (passes: readonly PreparedPass[]): PreparedPass['compared'][] =>
  passes.map(({ compared }) => compared);

/** Only a band that stands in the whole family gets a sentence of its own. */
function bandEntry(
  asked: AskedOf,
  { label, fromHz, toHz }: NonNullable<AskedOf['band']>,
  entry: (asked: AskedOf, what: string) => ComparedRatio & { axis: Axis },
): ComparedPair['bands'][number] {
  const what = ratioTexts.within(asked.axis, figure(fromHz), figure(toHz));
  const ratio = entry(asked, what);
  const clear = ratio.says === 'aSmoother' || ratio.says === 'bSmoother' || ratio.says === 'notCompared';
  return {
    ...ratio,
    sentence: clear ? ratio.sentence : ratioTexts.noClearDifferenceIn(what),
    label,
    fromHz,
    toHz,
  };
}

/** "3 passes each", "2 lanes with both, one pass each". */
function countsOf({ design, passes }: PairAnswers, places: Places | null): string {
  const [a, b] = [passes.a.length, passes.b.length];
  const passWords = a === b && a === design.lanes.length ? each(1, 1, 'pass') : each(a, b, 'pass');
  if (design.design === 'oneLane') return each(a, b, 'pass');
  if (design.design === 'pairedLanes')
    return ratioTexts.onBoth(design.lanes.length, places === null ? 'lanes' : 'setups', passWords);
  const lanes = [lanesWith(design.lanes, 'a').length, lanesWith(design.lanes, 'b').length];
  return each(lanes[0], lanes[1], 'lane');
}

function each(a: number, b: number, what: Counted): string {
  return a === b ? ratioTexts.each(a, what) : ratioTexts.apart(a, b, what);
}

function clipsOf(passes: readonly PreparedPass[]): Set<string> {
  return new Set(passes.map(({ compared }) => clipKey(compared)));
}

/** Both sides hold the same clips and no other. */
function sameClips({ passes }: PairAnswers): boolean {
  const [a, b] = [clipsOf(passes.a), clipsOf(passes.b)];
  return a.size === b.size && [...a].every((clip) => b.has(clip));
}

function sharedClips({ passes }: PairAnswers): string[] {
  const b = clipsOf(passes.b);
  return [...clipsOf(passes.a)].some((clip) => b.has(clip)) ? [ratioTexts.sharedClip] : [];
}

function confounded(claim: ComparedPair['claim'], places: Places | null): string[] {
  if (claim !== 'nothing') return [];
  return places === null ? [ratioTexts.noLaneHasBoth] : [ratioTexts.noSetupOnBoth(places)];
}

/** What was taken out as lines before floors were compared: machines keep their frequency and are told apart in hertz. */
function takenOut({ passes, a, b, wavelength }: PairAnswers, axis: Axis): string {
  const sides = [
    [a, passes.a],
    [b, passes.b],
  ] as const;
  const bandM = wavelength?.bandM ?? null;
  const told = sides.flatMap(([name, side]) => {
    const lines = bandM ? side.flatMap((pass) => linesWithin(pass, axis, bandM)) : [];
    const words = lines.map(({ freqHz, rms, unit }) => ratioTexts.line(figure(freqHz), figure(rms), unit));
    return words.length > 0 ? [ratioTexts.linesOf(name, [...new Set(words)])] : [];
  });
  return told.length > 0 ? ratioTexts.linesTakenOut(told) : '';
}
