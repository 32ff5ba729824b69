/** Answers questions to one measured pass while sliders move: what does not depend on the question is found once. */
import { whatIfAnswerTexts } from '../../texts/index.js';
import { smoothingOf } from '../../stabilise/index.js';
import type { RefusedChange } from '../changes/types.js';
import { DELIVERY_PRESETS } from '../presets.js';
import type { MeasuredPass } from '../pass/measured-pass.js';
import { wayFor } from '../what-if/foretold.js';
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
import { tradeOff, type TradeOffPoint } from './trade-off.js';
import type { LiveAnswer, LiveExtras, LivePoint } from './types.js';
import { viewOf } from './view-of.js';

/** Motions of other speeds and dollies, answers, and trade-offs that are remembered. */
const MOST_MOTIONS = 4;
const MOST_ANSWERS = 4;
const MOST_CURVES = 8;

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
  readonly #curves = new Remembered<readonly TradeOffPoint[]>(MOST_CURVES);

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
    const { setting, answer, curveKey } = this.#ask(wish);
    const { curve } = this.#pass.sections.stabilise;
    if (curve.length === 0 || this.#extras.verdict.grade === 'unmeasurable') return [];
    const chosenS = answer.mode === 'keepMove' ? answer.smoothingS : null;
    const usualS = curve.map(({ smoothingS }) => smoothingS);
    const others = this.#curves
      .of(curveKey, () => tradeOff(setting, [...new Set([...usualS, smoothingOf(setting.moved.expected)])]))
      .filter(({ smoothingS }) => smoothingS !== chosenS)
      .map((point): LivePoint => ({ ...point, chosen: false }));
    const chosen = chosenS === null ? [] : [{ ...answer.outcome, smoothingS: chosenS, chosen: true }];
    return [...others, ...chosen].sort((a, b) => a.smoothingS - b.smoothingS);
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
