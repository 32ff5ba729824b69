/** What may be asked to be different about a pass: lens, sensor, delivery, dolly and the way of stabilising; SI units, millimetres for optics. */
import type { Delivery, ResolvedDelivery } from '../../run/index.js';
import type { StabiliseMode } from '../../stabilise/index.js';

/** Everything that is missing stays as it was. */
export interface WhatIfWish {
  readonly focalLengthMm?: number | undefined;
  /** Times the focal length used, for a lens that is not known in millimetres; those count where both are given. */
  readonly focalFactor?: number | undefined;
  /** A narrower sensor behind the same lens sees less. */
  readonly sensorWidthMm?: number | undefined;
  /** A name of the presets, or single limits over those of the pass. */
  readonly delivery?: Readonly<Delivery> | undefined;
  readonly speedMps?: number | undefined;
  readonly wheelbaseM?: number | undefined;
  readonly wheelDiameterM?: number | undefined;
  readonly tyre?: 'soft' | 'hard' | undefined;
  readonly shutterAngleDeg?: number | undefined;
  readonly mode?: StabiliseMode | undefined;
  /** For a way that keeps the move. */
  readonly smoothingS?: number | undefined;
  readonly takeS?: number | undefined;
}

/** A wish whose delivery has every limit filled in. */
export type ResolvedWish = Omit<WhatIfWish, 'delivery'> & {
  readonly delivery?: ResolvedDelivery | undefined;
};

/** True when nothing is asked. */
export function asksNothing(wish: WhatIfWish | ResolvedWish): boolean {
  return Object.values(wish).every((value) => value === undefined);
}
