/** All questions about two setups, answered: each axis as a whole, by octave, and at unequal speeds within common wavelengths. */
import { AXES, isAngular, type Axis } from '../../run/index.js';
import { verdictTexts } from '../../texts/index.js';
import { alignPasses, alikeOf, coherenceOf, type AlignedPasses } from './alignment.js';
import { answerFor, type AxisAnswer, type AxisQuestion } from './axis-answer.js';
import { designOf, type LaneDesign } from './design.js';
import { octavesWithin, type FrequencyBand } from './frequency-bands.js';
import { bandLevel, type PassLevel } from './pass-level.js';
import { groupedBy, laneKey, SAME_SPEED, speedRange } from './pass-identity.js';
import type { PreparedPass } from './prepared-pass.js';
import type { Spreads } from './types.js';
import { commonWavelengths, levelWithin, WAVELENGTH_SD } from './wavelength-band.js';

/** Claims by band from fewer passes a side are hopeless: one band 1.5 times as strong is then found in 13 of 100 comparisons. */
const PASSES_FOR_BANDS = 3;

/** An answer with the axis, and the band where it is about one. */
export interface AskedOf {
  readonly axis: Axis;
  readonly answer: AxisAnswer;
  readonly band: FrequencyBand | null;
}

/** Everything that was asked about two setups; one list for each family of questions. */
export interface PairAnswers {
  readonly a: string;
  readonly b: string;
  readonly design: LaneDesign<PreparedPass>;
  readonly passes: { readonly a: readonly PreparedPass[]; readonly b: readonly PreparedPass[] };
  readonly alike: Readonly<Partial<Record<Axis, number>>>;
  readonly angles: readonly AskedOf[];
  readonly translation: readonly AskedOf[];
  readonly bands: readonly AskedOf[];
  /** Null at equal or unknown speeds. */
  readonly wavelength: {
    readonly bandM: readonly [number, number] | null;
    readonly refused: string | null;
    readonly answers: readonly AskedOf[];
  } | null;
}

/** What is asked with. */
export interface AskOptions {
  readonly spreads: Spreads;
  /** Cameras and codec are alike. */
  readonly noiseShared: boolean;
}

/** Asks everything about two setups. @param a,b passes of each, at least one */
export function askPair(
  a: readonly PreparedPass[],
  b: readonly PreparedPass[],
  options: AskOptions,
): PairAnswers {
  const design = designOf(
    [...groupedBy([...a, ...b], ({ compared }) => laneKey(compared))].map(([lane, passes]) => ({
      lane,
      a: passes.filter((pass) => a.includes(pass)),
      b: passes.filter((pass) => b.includes(pass)),
    })),
  );
  const passes = {
    a: design.lanes.flatMap((lane) => [...lane.a]),
    b: design.lanes.flatMap((lane) => [...lane.b]),
  };
  const used = [...passes.a, ...passes.b];
  const pairs = design.lanes.flatMap((lane) =>
    lane.a.flatMap((one) => lane.b.map((other) => alignPasses(one, other))),
  );
  const ask = questioner(design, used, options);
  const axes = AXES.filter((axis) => isAngular(axis) || canAsk(axis, passes));
  const whole = axes.map((axis) =>
    ask(axis, ({ axes: seen }) => seen[axis]?.level ?? null, alikeOf(pairs, axis) ** 2),
  );
  const enough = Math.min(passes.a.length, passes.b.length) >= PASSES_FOR_BANDS;
  return {
    a: a[0].compared.setup,
    b: b[0].compared.setup,
    design,
    passes,
    alike: Object.fromEntries(axes.map((axis) => [axis, alikeOf(pairs, axis)])),
    angles: whole.filter(({ axis }) => isAngular(axis)),
    translation: whole.filter(({ axis }) => !isAngular(axis)),
    bands: enough ? askBands(axes, used, pairs, ask) : [],
    wavelength: askWavelength(axes, used, ask),
  };
}

type Ask = (
  axis: Axis,
  levelOf: (pass: PreparedPass) => PassLevel | null,
  alikeSquared: number,
  more?: { readonly band?: FrequencyBand; readonly addedVariance?: number },
) => AskedOf;

function questioner(
  design: LaneDesign<PreparedPass>,
  used: readonly PreparedPass[],
  { spreads, noiseShared }: AskOptions,
): Ask {
  return (axis, levelOf, alikeSquared, { band, addedVariance } = {}) => {
    const lanes = design.lanes.map(({ lane, a, b }) => ({ lane, a: a.map(levelOf), b: b.map(levelOf) }));
    const question: AxisQuestion = {
      axis,
      ...unitOf(axis, used),
      design: { ...design, lanes },
      alikeSquared,
      spreads,
      noiseShared,
      ...(addedVariance !== undefined && { addedVariance }),
    };
    return { axis, answer: answerFor(question), band: band ?? null };
  };
}

function askBands(
  axes: readonly Axis[],
  used: readonly PreparedPass[],
  pairs: readonly (AlignedPasses | null)[],
  ask: Ask,
): AskedOf[] {
  const bands = octavesWithin(used[0].bandHz);
  return axes.flatMap((axis) =>
    bands.map((band) => {
      const { fromHz, toHz } = band;
      const levelOf = (pass: PreparedPass): PassLevel | null => {
        const spectrum = pass.axes[axis]?.spectrum;
        return spectrum ? bandLevel(spectrum, fromHz, toHz) : null;
      };
      return ask(axis, levelOf, coherenceOf(pairs, axis, fromHz, toHz), { band });
    }),
  );
}

function askWavelength(
  axes: readonly Axis[],
  used: readonly PreparedPass[],
  ask: Ask,
): PairAnswers['wavelength'] {
  const range = speedRange(used.map(({ speedMps }) => speedMps));
  if (range === null || range <= SAME_SPEED) return null;
  const { bandM, refused } = commonWavelengths(used);
  if (bandM === null) return { bandM, refused, answers: [] };
  const answers = axes.map((axis) =>
    ask(axis, (pass) => levelWithin(pass, axis, bandM), 0, { addedVariance: WAVELENGTH_SD ** 2 }),
  );
  return { bandM, refused, answers };
}

/** Translation is asked about where both sides tell some of it, in one and the same unit. */
function canAsk(axis: Axis, { a, b }: PairAnswers['passes']): boolean {
  const units = new Set([...a, ...b].map(({ compared }) => compared.pass.motion.translationUnit));
  return units.size === 1 && [a, b].every((side) => side.some(({ axes }) => axes[axis]));
}

function unitOf(axis: Axis, used: readonly PreparedPass[]): { unit: string; scale: number } {
  if (isAngular(axis)) return { unit: 'deg', scale: 180 / Math.PI };
  return used[0].compared.pass.motion.translationUnit === 'm'
    ? { unit: 'mm', scale: 1000 }
    : { unit: verdictTexts.ofSubjectDistance, scale: 100 };
}
