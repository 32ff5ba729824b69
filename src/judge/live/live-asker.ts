/** Answers questions to one measured pass while sliders move: what does not depend on the question is found once. */
import { whatIfAnswerTexts } from '../../texts/index.js';
import type { PredictedOutcome } from '../../run/index.js';
import { smoothingFits, smoothingOf } from '../../stabilise/index.js';
import type { RefusedChange } from '../changes/types.js';
import { DELIVERY_PRESETS } from '../presets.js';
import type { MeasuredPass } from '../pass/measured-pass.js';
import { keepingMove, wayFor } from '../what-if/foretold.js';
import { otherDelivery } from '../what-if/other-delivery.js';
import {
  asMeasured,
  changesOf,
  isAsItWas,
  movedBy,
  settingFor,
  type MovedSection,
  type Setting,
} from '../what-if/setting.js';
import type { ResolvedWish, WhatIfWish } from '../what-if/wish.js';
import { foretoldFigures, storedFigures } from './answer-of.js';
import { Remembered } from './remembered.js';
import type { LiveAnswer, LiveExtras, LivePoint } from './types.js';
import { viewOf } from './view-of.js';

/** Motions of other speeds and dollies, answers, and points of trade-offs that are remembered. */
const MOST_MOTIONS = 4;
const MOST_ANSWERS = 4;
const MOST_POINTS = 80;

/** A question with the setting that answers it. */
interface Answered {
  readonly setting: Setting;
  readonly answer: LiveAnswer;
  /** What its trade-off depends on. */
  readonly curveKey: string;
}

/**
 * Answers by the very functions of `whatIf`, without its plan, tables, advice and longer takes: crop, shake left and grade are those
 * of `whatIf(...).then`. Notes on longer takes, blur and the floor, which decide nothing, are left to it.
 */
export class LiveAsker {
  readonly #pass: MeasuredPass;
  readonly #extras: Required<LiveExtras>;
  readonly #moved = new Remembered<MovedSection | RefusedChange>(MOST_MOTIONS);
  readonly #answered = new Remembered<Answered>(MOST_ANSWERS);
  readonly #points = new Remembered<PredictedOutcome>(MOST_POINTS);

  constructor(pass: MeasuredPass, { presets = DELIVERY_PRESETS, verdict }: LiveExtras) {
    this.#pass = pass;
    this.#extras = { presets, verdict };
  }

  /**
   * The answer, without the trade-off.
   *
   * @throws RangeError when a figure of the wish is not positive, or its smoothing does not fit the frame rate
   */
  answer(wish: WhatIfWish): LiveAnswer {
    return this.#ask(wish).answer;
  }

  /** The trade-off under the same lens, speed, dolly and delivery; the chosen point is that of `answer`. @throws RangeError as `answer` */
  curve(wish: WhatIfWish): LivePoint[] {
    const steps = this.curveInSteps(wish);
    for (;;) {
      const { done, value } = steps.next();
      if (done === true) return value;
    }
  }

  /** As `curve`, a pause after each point: who asks may turn to something else meanwhile, and what was found by then is remembered. */
  *curveInSteps(wish: WhatIfWish): Generator<undefined, LivePoint[]> {
    const { setting, answer, curveKey } = this.#ask(wish);
    const { curve } = this.#pass.sections.stabilise;
    if (curve.length === 0 || this.#extras.verdict.grade === 'unmeasurable') return [];
    const { expected } = setting.moved;
    const chosenS = answer.mode === 'keepMove' ? answer.smoothingS : null;
    const usualS = new Set([...curve.map(({ smoothingS }) => smoothingS), smoothingOf(expected)]);
    const points: LivePoint[] = [];
    for (const smoothingS of usualS) {
      if (smoothingS === chosenS || !smoothingFits(expected, smoothingS)) continue;
      const outcome = this.#points.of(
        `${smoothingS} ${curveKey}`,
        () => foretoldFigures(keepingMove(setting, smoothingS)).figures.outcome,
      );
      points.push({ ...outcome, smoothingS, chosen: false });
      yield;
    }
    if (chosenS !== null) points.push({ ...answer.outcome, smoothingS: chosenS, chosen: true });
    return points.sort((a, b) => a.smoothingS - b.smoothingS);
  }

  #ask(wish: WhatIfWish): Answered {
    return this.#answered.of(JSON.stringify(wish), () => this.#askAnew(wish));
  }

  #askAnew(asked: WhatIfWish): Answered {
    const pass = this.#pass;
    const { presets, verdict } = this.#extras;
    if (verdict.grade === 'unmeasurable')
      return this.#stored(asMeasured(pass), whatIfAnswerTexts.cannotBeTrusted(verdict.reasons[0].text));
    const wish: ResolvedWish = {
      ...asked,
      delivery: asked.delivery && otherDelivery(pass.delivery, asked.delivery, presets),
    };
    const setting = settingFor(pass, wish, (_, changes) =>
      this.#moved.of(JSON.stringify(changes), () => movedBy(pass, changes)),
    );
    if ('refused' in setting) return this.#stored(asMeasured(pass), setting.refused);
    if (isAsItWas(setting)) return this.#stored(setting, null);
    const { figures, way } = foretoldFigures(setting);
    return {
      ...this.#under(setting, wish),
      answer: { ...figures, refused: null, changed: true, view: viewOf(setting, way), curve: null },
    };
  }

  #under(setting: Setting, wish: ResolvedWish): Omit<Answered, 'answer'> {
    const { camera, delivery } = setting;
    return { setting, curveKey: JSON.stringify([camera, delivery, changesOf(this.#pass, wish)]) };
  }

  #stored(setting: Setting, refused: string | null): Answered {
    const way = wayFor(setting, setting.moved.expected);
    return {
      ...this.#under(setting, {}),
      answer: {
        ...storedFigures(setting, this.#extras.verdict),
        ...{ refused, changed: false, view: viewOf(setting, way), curve: null },
      },
    };
  }
}

/** One answer with its trade-off; many are had in less time from a `LiveAsker`. @throws RangeError as `LiveAsker.answer` */
export function liveAnswer(pass: MeasuredPass, wish: WhatIfWish, extras: LiveExtras): LiveAnswer {
  const asker = new LiveAsker(pass, extras);
  return { ...asker.answer(wish), curve: asker.curve(wish) };
}
