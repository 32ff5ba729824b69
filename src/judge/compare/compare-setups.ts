/**
 * Setups against each other: groups of passes, every two groups compared axis by axis, with what the ranges rest on and whether the
 * comparison is fair. Ratios are of RMS, A over B; degrees, millimetres or per cent of the subject distance; per cent of the width.
 */
import { STABILISE_DEFAULTS } from '../../stabilise/index.js';
import { figure, type Comparison, type Warning } from '../../run/index.js';
import { comparisonTexts } from '../../texts/index.js';
import { commonLens } from './common-lens.js';
import { fairnessOf } from './conditions.js';
import { cropCost, passCrop, type PassCrop } from './crop-cost.js';
import { holm } from './holm.js';
import { orderWarning } from './order-warning.js';
import { manyPairsSentence } from './many-pairs.js';
import { pairEntry, placesOf, type FamilyP } from './pair-entry.js';
import { askPair, type AskedOf, type PairAnswers } from './pair-questions.js';
import { clipKey, groupedBy, laneKey, laneName } from './pass-identity.js';
import { commonBand, preparePass, type PreparedPass } from './prepared-pass.js';
import { runEntry } from './run-entry.js';
import { ASSUMED_SPREADS, type ComparedPass, type Spreads } from './types.js';

/** How to compare. */
export interface CompareOptions {
  /** What the groups differ in: "setup", "wheels", "speed". A condition of that name makes nothing unfair. */
  readonly by: string;
  /** What passes and lanes differ by; assumed unless given. */
  readonly spreads?: Spreads;
  /** Length of the take that crops are foretold for, seconds; at most twice the shortest pass of a pair is taken. */
  readonly takeS?: number;
  /** Of the draws behind the crop forecasts. */
  readonly seed?: number;
}

/** What a comparison says of setups; the document adds where it came from and the plan of the lanes. */
export type SetupComparison = Pick<
  Comparison,
  'groups' | 'common' | 'priors' | 'pairs' | 'sentence' | 'warnings'
>;

/**
 * Compares all setups with one another.
 *
 * Everything is read in the band that all passes have in common, and crops on one lens. A clip that comes twice under one setup counts
 * once. p are corrected by Holm within each family over all pairs: angles as a whole; translation; bands; wavelengths.
 *
 * @param passes in the order in which groups shall stand; one group gives no pairs
 * @throws RangeError without a pass
 */
export function compareSetups(passes: readonly ComparedPass[], options: CompareOptions): SetupComparison {
  if (passes.length === 0) throw new RangeError('nothing to compare: no pass was given');
  const { by, spreads = ASSUMED_SPREADS, takeS = STABILISE_DEFAULTS.takeS, seed = 1 } = options;
  const { once, warnings } = withoutRepeats(passes);
  const bandHz = commonBand(once);
  const lens = commonLens(once);
  const prepared = once.map((pass) => preparePass(pass, bandHz));
  const crops = new Map(once.map((pass) => [pass, passCrop(pass, lens, bandHz[0], seed)]));
  const groups = [...groupedBy(prepared, ({ compared }) => compared.setup).values()];
  const answers = everyTwo(groups).map(([a, b]) => {
    const { noiseShared } = fairnessOf(comparedOf(a), comparedOf(b), by);
    return askPair(a, b, { spreads, noiseShared });
  });
  const family = familyOf(answers);
  const pairs = answers.map((pair) => {
    const cropsOf = (side: readonly PreparedPass[]): PassCrop[] =>
      side.flatMap(({ compared }) => crops.get(compared) ?? []);
    const cost = cropCost(cropsOf(pair.passes.a), cropsOf(pair.passes.b), takeS, spreads.betweenPasses);
    return pairEntry(pair, family, cost, prepared, { by, spreads });
  });
  const counted = new Set(answers.flatMap(({ passes: { a, b } }) => [...a, ...b]));
  return {
    groups: groups.map((group) => ({
      name: group[0].compared.setup,
      runs: group.map((pass) =>
        runEntry(pass, {
          cropPercent: crops.get(pass.compared)?.cropPercent ?? 0,
          lane: laneName(pass.compared, once),
          leftOut: answers.length > 0 && !counted.has(pass),
        }),
      ),
    })),
    common: lens.words,
    priors: { ...spreads, words: priorWords(spreads) },
    pairs,
    sentence: answerSentence(pairs, groups.length, by),
    warnings: [...warnings, ...pairWarnings(groups, answers, by)],
  };
}

const comparedOf = (passes: readonly PreparedPass[]): ComparedPass[] =>
  passes.map(({ compared }) => compared);

function everyTwo<Value>(values: readonly Value[]): [Value, Value][] {
  return values.flatMap((one, i) => values.slice(i + 1).map((other): [Value, Value] => [one, other]));
}

/** A clip that was given twice under one setup is no second pass. */
function withoutRepeats(passes: readonly ComparedPass[]): { once: ComparedPass[]; warnings: Warning[] } {
  const groups = [...groupedBy(passes, (pass) => `${pass.setup}\n${clipKey(pass)}`).values()];
  const warnings = groups
    .filter(({ length }) => length > 1)
    .map(([first, ...more]): Warning => ({
      code: 'same-clip-twice',
      text: comparisonTexts.sameClipTwice(first.clip, more.length + 1, first.setup),
      atS: null,
    }));
  return { once: groups.map(([first]) => first), warnings };
}

/** Holm over each family of questions, all pairs together. */
function familyOf(answers: readonly PairAnswers[]): FamilyP {
  const families: readonly (readonly AskedOf[])[] = [
    answers.flatMap(({ angles }) => angles),
    answers.flatMap(({ translation }) => translation),
    answers.flatMap(({ bands }) => bands),
    answers.flatMap(({ wavelength }) => wavelength?.answers ?? []),
  ];
  const corrected = new Map<AskedOf, { p: number | null; size: number }>();
  for (const asked of families) {
    const p = holm(asked.map(({ answer }) => answer.compared?.ratio.p ?? answer.belowNoise?.p ?? null));
    const size = p.filter((value) => value !== null).length;
    asked.forEach((one, i) => corrected.set(one, { p: p[i], size }));
  }
  return {
    of: (asked) => corrected.get(asked)?.p ?? null,
    size: (asked) => corrected.get(asked)?.size ?? 0,
  };
}

function priorWords({ betweenPasses, betweenLanes, setupByLane, degrees, ...from }: Spreads): string {
  const percent = (spread: number): string => figure(100 * spread);
  return comparisonTexts.restsOn(
    { percent: percent(betweenPasses), from: from.betweenPassesFrom },
    { percent: percent(betweenLanes), from: from.betweenLanesFrom },
    percent(setupByLane),
    [degrees, figure(degrees)],
  );
}

function answerSentence(pairs: SetupComparison['pairs'], groups: number, by: string): string {
  if (pairs.length === 0) return comparisonTexts.oneAlone;
  return pairs.length === 1
    ? pairs[0].sentence
    : manyPairsSentence(pairs, groups, placesOf(by) ?? (by === 'run' ? 'run' : 'setup'));
}

function pairWarnings(
  groups: readonly (readonly PreparedPass[])[],
  answers: readonly PairAnswers[],
  by: string,
): Warning[] {
  const lane = placesOf(by) === null ? 'lane' : 'setup';
  const bothOf = placesOf(by) ?? 'setup';
  const order = everyTwo(groups).flatMap(([a, b]) => orderWarning(comparedOf(a), comparedOf(b)) ?? []);
  const all = groups.flatMap(comparedOf);
  const leftOut = answers.flatMap(({ a, b, design }): Warning[] =>
    design.leftOut.length > 0
      ? [
          {
            code: 'lanes-left-out',
            text: comparisonTexts.leftOut(
              [a, b],
              design.leftOut.length,
              lane,
              bothOf,
              all
                .filter((pass) => [a, b].includes(pass.setup) && design.leftOut.includes(laneKey(pass)))
                .map((pass) =>
                  comparisonTexts.runOn(pass.clip, lane === 'lane' ? laneName(pass, all) : null),
                ),
            ),
            atS: null,
          },
        ]
      : [],
  );
  const relative = answers.some(({ translation }) =>
    translation.some(({ answer }) => answer.question.unit !== 'mm'),
  );
  const framing: Warning = {
    code: 'relative-translation',
    text: comparisonTexts.relativeTranslation,
    atS: null,
  };
  return [...order, ...leftOut, ...(relative ? [framing] : [])];
}
