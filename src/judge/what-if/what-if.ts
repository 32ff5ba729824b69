/**
 * What a measured pass would cost and leave with another lens, sensor, delivery, speed, dolly or way of stabilising: the verdict
 * that a run would give, from the motion that was measured (radians, metres), without the clip.
 */
import type {
  MotionSection,
  StabiliseSection,
  VerdictSection,
  WhatIfAnswer,
  WhatIfState,
} from '../../run/index.js';
import { whatIfAnswerTexts } from '../../texts/index.js';
import { hitsOf, planStabilisation, stabiliseSection, testPassOf, type Hit } from '../../stabilise/index.js';
import { resolveDelivery } from '../delivery.js';
import type { MeasuredPass } from '../pass/measured-pass.js';
import { figuresOf } from '../pass/outcome.js';
import { DELIVERY_PRESETS, type DeliveryPresets } from '../presets.js';
import { blurRange } from '../residual.js';
import { judge } from '../verdict.js';
import { changesInWords } from './changes-in-words.js';
import { foretell, motionFor, outcomeWith, repeatOfAny } from './foretold.js';
import { otherDelivery } from './other-delivery.js';
import { asMeasured, isAsItWas, isMeasuredMotion, passWith, settingFor, type Setting } from './setting.js';
import { stepsThatCount } from './steps-that-count.js';
import { tablesFor } from './tables.js';
import { asksNothing, type ResolvedWish, type WhatIfWish } from './wish.js';

/** What an answer may take in besides the pass. */
export interface WhatIfExtras {
  /** Deliveries by name, to hold the pass against; the built-in ones unless the crew has a file. */
  readonly presets?: DeliveryPresets;
  /** The verdict of the run; made anew when it is not at hand. */
  readonly verdict?: VerdictSection;
}

/**
 * Answers a wish. A wish that changes nothing gives the stored figures, bit for bit.
 *
 * What cannot be foretold is refused in a plain sentence (`refused`, or in the place of a row), never guessed; nothing is foretold
 * from a pass that could not be measured.
 *
 * @throws RangeError when a figure of the wish is not positive, or its smoothing does not fit the frame rate
 */
export function whatIf(pass: MeasuredPass, asked: WhatIfWish, extras: WhatIfExtras = {}): WhatIfAnswer {
  const { presets = DELIVERY_PRESETS, verdict = judgeMeasured(pass) } = extras;
  const deliveries = Object.keys(presets).map((name) => resolveDelivery({ name }, presets));
  const wish: ResolvedWish = {
    ...asked,
    delivery: asked.delivery && otherDelivery(pass.delivery, asked.delivery, presets),
  };
  const measured = measuredState(pass, verdict);
  const answer = {
    ...{ asked: changesInWords(measured, wish), measured, then: null },
    ...{ adviceNote: null, refused: null, assumes: [] },
  };
  const { again } = pass.sections.stabilise;
  if (verdict.grade === 'unmeasurable')
    return {
      ...answer,
      refused: whatIfAnswerTexts.cannotBeTrusted(verdict.reasons[0].text),
      tables: NO_TABLES,
    };
  const setting = settingFor(pass, wish);
  if ('refused' in setting)
    return {
      ...answer,
      refused: setting.refused,
      tables: tablesFor(asMeasured(pass), {}, deliveries, again),
    };
  if (asksNothing(wish)) return { ...answer, tables: tablesFor(setting, wish, deliveries, again) };
  const { stabilise, ...then } = isAsItWas(setting)
    ? { ...stateAsItWas(setting, verdict), adviceNote: null }
    : foretoldState(setting);
  return {
    ...answer,
    ...then,
    assumes: [...setting.assumes],
    tables: tablesFor(setting, wish, deliveries, stabilise.again),
  };
}

const NO_TABLES: WhatIfAnswer['tables'] = {
  focal: [],
  speed: [],
  speedRefused: null,
  deliveries: [],
  deliveriesNote: null,
  smoothing: [],
  wheelbase: [],
  wheelbaseRefused: null,
};

function judgeMeasured(pass: MeasuredPass): VerdictSection {
  const { motion, stabilise, surface, tracking, clip } = pass.sections;
  return judge({ motion, stabilise, surface, tracking, clip, delivery: pass.delivery, pass });
}

function measuredState(pass: MeasuredPass, verdict: VerdictSection): WhatIfState {
  const { stabilise, motion } = pass.sections;
  return stateOf(asMeasured(pass), motion, stabilise, verdict);
}

/** A state with the section that it was made from. */
interface State {
  readonly then: WhatIfState;
  readonly stabilise: StabiliseSection;
}

/** What only names what was is answered with what is stored. */
function stateAsItWas(setting: Setting, verdict: VerdictSection): State {
  const { motion, stabilise } = setting.pass.sections;
  return { then: stateOf(setting, motion, stabilise, verdict), stabilise };
}

/** True where the ways that the run has worked out already stand as they are: motion, lens and delivery do. */
function knowsWays(setting: Setting): boolean {
  const { pass, camera, delivery } = setting;
  return isMeasuredMotion(setting) && camera === pass.motion.camera && delivery === pass.delivery;
}

function withKnownWays(section: StabiliseSection, { pass }: Setting): StabiliseSection {
  const known = pass.sections.stabilise.modes.filter(
    (way) => !section.modes.some(({ mode }) => mode === way.mode),
  );
  return { ...section, modes: [...section.modes, ...known] };
}

/**
 * The hits that the pass itself shows. What is made of its motion has the same ones in the same frames: looked for anew, they would come
 * and go as the rules of the search fall on other frame rates, and the foretold take would jump between speeds that hardly differ.
 */
function hitsOfPass({ pass }: Setting): readonly Hit[] {
  const { way } = figuresOf(pass, pass.motion, { choice: { mode: 'keepMove' } });
  return hitsOf(testPassOf(way, pass.motion.camera, pass.motion.rateHz, pass.rig));
}

/** The plan under other conditions, and the verdict on it. */
function foretoldState(setting: Setting): State & Pick<WhatIfAnswer, 'adviceNote'> {
  const { pass, moved, camera, rig, delivery, choice } = setting;
  const plan = planStabilisation(
    { motion: moved.expected, camera, delivery, rig, source: pass.source },
    // The other ways take longer than all the rest; of them the advice asks for the smoothest alone.
    {
      ...choice,
      smoothingS: choice.smoothingS ?? undefined,
      hits: isMeasuredMotion(setting) ? undefined : hitsOfPass(setting),
      modes: isMeasuredMotion(setting) && !knowsWays(setting) ? ['smoothest'] : [],
    },
  );
  const planned = stabiliseSection(plan);
  const section = knowsWays(setting) ? withKnownWays(planned, setting) : planned;
  const foretold = foretell(
    setting,
    plan.ways.find(({ mode }) => mode === choice.mode),
  );
  const motion = motionFor(setting, foretold);
  const { surface, tracking, clip } = pass.sections;
  const sections = { motion, surface, tracking, clip, delivery };
  if (isMeasuredMotion(setting)) {
    const then = passWith(setting, section);
    const verdict = judge({ ...sections, stabilise: section, pass: then, coarse: true });
    return { then: stateOf(setting, motion, section, verdict), stabilise: section, adviceNote: null };
  }
  // One prediction is not built upon another: the steps come from the figures alone.
  const stabilise = repeatOfAny(withoutTimes(section), foretold);
  const verdict = judge({ ...sections, stabilise, pass: null });
  const advice = stepsThatCount(verdict);
  return {
    then: stateOf(setting, motion, stabilise, { ...verdict, advice }),
    stabilise: section,
    adviceNote:
      verdict.grade === 'pass' || verdict.grade === 'unmeasurable'
        ? null
        : whatIfAnswerTexts.askWithoutTheChange,
  };
}

/**
 * Without what belongs to the frames of the pass: the bump under the worst frame lies elsewhere on the new axis of time, and frames
 * of the real take do not lie where these samples do, so that their smear is not that of the take.
 */
function withoutTimes(stabilise: StabiliseSection): StabiliseSection {
  return { ...stabilise, worstFrameS: null, residual: { ...stabilise.residual, blurPx: null } };
}

function stateOf(
  { rig, speedMps, delivery }: Setting,
  motion: MotionSection,
  stabilise: StabiliseSection,
  verdict: VerdictSection,
): WhatIfState {
  const { cropPercent, residualPx } = outcomeWith(motion, stabilise, verdict.grade);
  const { longestLens, forRepeat } = stabilise.recommended;
  const take = stabilise.longerTake.find(({ takeS }) => takeS === stabilise.takeS);
  return {
    focalLengthMm: rig.focalLengthMm ?? null,
    sensorWidthMm: rig.sensorWidthMm ?? null,
    speedMps,
    wheelbaseM: rig.wheelbaseM ?? null,
    wheelDiameterM: rig.wheelDiameterM ?? null,
    shutterAngleDeg: rig.shutterAngleDeg ?? null,
    mode: stabilise.mode,
    smoothingS: stabilise.smoothingS,
    delivery: { ...delivery },
    cropPercent,
    cropPx: stabilise.cropPx,
    zoom: stabilise.zoom,
    coverable: stabilise.coverable,
    residualPx,
    residualAtMost: stabilise.residual.atMost,
    blurPx: blurRange(motion, stabilise),
    longestLens: longestLens && {
      factor: longestLens.factor,
      focalLengthMm: longestLens.focalLengthMm,
      limitedBy: longestLens.limitedBy,
    },
    framing: forRepeat && {
      overscanPercent: forRepeat.overscanPercent,
      overscanPx: forRepeat.overscanPx,
      focalLengthMm: forRepeat.focalLengthMm,
    },
    take:
      take === undefined
        ? null
        : {
            takeS: take.takeS,
            medianPercent: take.medianPercent,
            upper95Percent: take.upper95Percent,
            atLeast: take.atLeast,
            refused: take.refused?.why ?? null,
          },
    verdict,
  };
}
