/** The chosen way of stabilising on other lenses and at other speeds: crop in per cent of the width, px of the delivery left. */
import { heightPerWidth } from '../crop/exact-crop.js';
import type { Way, WhatIf } from '../types.js';
import { correctionsOf, residualAt, type WayInput, type WayWish } from '../ways.js';
import { focalTable, type FocalWhatIf } from './what-if-focal.js';
import { speedTable } from './what-if-speed.js';

/** What the crew knows of lens and speed; null where it does not. */
export interface Known {
  readonly focalLengthMm: number | null;
  readonly speedMps: number | null;
}

/** The same way on other lenses; also what the longest lens within the limits is looked for with. */
export function otherLenses(input: WayInput, way: Way, focalLengthMm: number | null): FocalWhatIf {
  const { camera, delivery } = input;
  return {
    corrections: way.corrections,
    camera,
    shape: heightPerWidth(delivery),
    focalLengthMm,
    residualPx: (lens, zoom) => residualAt(input, way.corrections, lens, zoom).total?.rmsPx ?? null,
  };
}

/** The usual lenses and speeds. @param wish what the way was made from */
export function whatIf(input: WayInput, way: Way, wish: WayWish, known: Known): WhatIf {
  const { motion, camera, delivery } = input;
  return {
    focal: focalTable(otherLenses(input, way, known.focalLengthMm)),
    speed: speedTable({
      motion,
      camera,
      shape: heightPerWidth(delivery),
      ...(way.smoothingS !== null && { smoothingS: way.smoothingS }),
      speedMps: known.speedMps,
      method: {
        corrections: (played) =>
          played === motion ? way.corrections : correctionsOf({ ...input, motion: played }, wish),
        residualPx: (played, corrections, zoom) =>
          residualAt({ ...input, motion: played }, corrections, camera, zoom).total?.rmsPx ?? null,
      },
    }),
  };
}
