/** What was asked to be different, as a reader says it: name, what it was, what it would be. */
import {
  figure,
  limitFigure,
  type ResolvedDelivery,
  type WhatIfAnswer,
  type WhatIfState,
} from '../../run/index.js';
import { whatIfAskedTexts } from '../../texts/index.js';
import type { ResolvedWish } from './wish.js';

const texts = whatIfAskedTexts;
const { names, notGiven } = texts;

/** One entry for each thing that the wish names, also when it names what was. */
export function changesInWords(was: WhatIfState, wish: ResolvedWish): WhatIfAnswer['asked'] {
  const changes: WhatIfAnswer['asked'] = [];
  const add = <Value>(
    what: string,
    from: Value | null,
    to: Value | undefined,
    words: (value: Value) => string,
  ): void => {
    if (to !== undefined) changes.push({ what, from: from === null ? notGiven : words(from), to: words(to) });
  };
  const as = (words: (printed: string) => string) => (value: number) => words(limitFigure(value));
  const millimetres = (metres: number): string => texts.mm(figure(1000 * metres));
  add(names.lens, was.focalLengthMm, wish.focalLengthMm, as(texts.opticsMm));
  add(names.sensor, was.sensorWidthMm, wish.sensorWidthMm, as(texts.opticsMm));
  const { delivery } = wish;
  const viewing = delivery?.viewingDistanceHeights;
  const nearer = viewing !== undefined && viewing !== was.delivery.viewingDistanceHeights;
  // A distance alone that changes no limit is told alone.
  if (!nearer || deliveryInWords(was.delivery) !== deliveryInWords(delivery ?? was.delivery))
    add(names.delivery, was.delivery, delivery, deliveryInWords);
  if (nearer) add(names.viewing, was.delivery.viewingDistanceHeights, viewing, as(texts.screenHeights));
  add(names.speed, was.speedMps, wish.speedMps, as(texts.mps));
  add(names.wheelbase, was.wheelbaseM, wish.wheelbaseM, millimetres);
  add(names.wheels, was.wheelDiameterM, wish.wheelDiameterM, millimetres);
  add(names.tyres, null, wish.tyre, (tyre) => texts.tyres[tyre]);
  add(names.shutter, was.shutterAngleDeg, wish.shutterAngleDeg, as(texts.degrees));
  add(names.way, was.mode, wish.mode, (mode) => texts.ways[mode]);
  add(names.smoothing, was.smoothingS, wish.smoothingS, as(texts.seconds));
  add(names.take, was.take?.takeS ?? null, wish.takeS, as(texts.seconds));
  return changes;
}

/** A delivery in a few words: name, size and limits. */
export function deliveryInWords({
  name,
  widthPx,
  heightPx,
  maxCropPercent,
  maxResidualPx,
}: ResolvedDelivery): string {
  return texts.delivery(name, widthPx, heightPx, limitFigure(maxCropPercent), limitFigure(maxResidualPx));
}
