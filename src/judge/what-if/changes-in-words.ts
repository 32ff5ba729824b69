/** What was asked to be different, as a reader says it: name, what it was, what it would be. */
import {
  figure,
  limitFigure,
  type ResolvedDelivery,
  type WhatIfAnswer,
  type WhatIfState,
} from '../../run/index.js';
import type { ResolvedWish } from './wish.js';

const MODES: Readonly<Record<WhatIfState['mode'], string>> = {
  keepMove: 'keep the move',
  holdStill: 'hold still',
  smoothest: 'smoothest within the crop allowed',
};

const UNKNOWN = 'not given';

/** One entry for each thing that the wish names, also when it names what was. */
export function changesInWords(was: WhatIfState, wish: ResolvedWish): WhatIfAnswer['asked'] {
  const changes: WhatIfAnswer['asked'] = [];
  const add = <Value>(
    what: string,
    from: Value | null,
    to: Value | undefined,
    words: (value: Value) => string,
  ): void => {
    if (to !== undefined) changes.push({ what, from: from === null ? UNKNOWN : words(from), to: words(to) });
  };
  const unit = (name: string) => (value: number) => `${limitFigure(value)} ${name}`;
  const millimetres = (metres: number): string => `${figure(1000 * metres)} mm`;
  add('Lens', was.focalLengthMm, wish.focalLengthMm, unit('mm'));
  add('Sensor width', was.sensorWidthMm, wish.sensorWidthMm, unit('mm'));
  const { delivery } = wish;
  const viewing = delivery?.viewingDistanceHeights;
  const nearer = viewing !== undefined && viewing !== was.delivery.viewingDistanceHeights;
  // A distance alone that changes no limit is told alone.
  if (!nearer || deliveryInWords(was.delivery) !== deliveryInWords(delivery ?? was.delivery))
    add('Delivery', was.delivery, delivery, deliveryInWords);
  if (nearer)
    add(
      'Viewing distance',
      was.delivery.viewingDistanceHeights,
      viewing,
      (heights) => `${limitFigure(heights)} screen heights`,
    );
  add('Speed', was.speedMps, wish.speedMps, unit('m/s'));
  add('Wheelbase', was.wheelbaseM, wish.wheelbaseM, millimetres);
  add('Wheels', was.wheelDiameterM, wish.wheelDiameterM, millimetres);
  add('Tyres', null, wish.tyre, String);
  add('Shutter', was.shutterAngleDeg, wish.shutterAngleDeg, unit('deg'));
  add('Way', was.mode, wish.mode, (mode) => MODES[mode]);
  add('Smoothing', was.smoothingS, wish.smoothingS, unit('s'));
  add('Take', was.take?.takeS ?? null, wish.takeS, unit('s'));
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
  const called = name === null ? '' : `${name}, `;
  return `${called}${widthPx} x ${heightPx}, crop up to ${limitFigure(maxCropPercent)} %, ${limitFigure(maxResidualPx)} px left`;
}
