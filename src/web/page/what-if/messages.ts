/** What the page and its worker say to each other. */
import type { DeliveryPresets, LiveAnswer, LivePoint, WhatIfWish } from '../../../judge/index.js';
import type { RunDocument, RunSeries } from '../../../run/index.js';

/** To the worker: the pass once, then questions by rising number. */
export type ToWorker =
  | {
      readonly kind: 'pass';
      readonly run: RunDocument;
      readonly series: RunSeries;
      readonly deliveries: DeliveryPresets;
    }
  | { readonly kind: 'ask'; readonly number: number; readonly wish: WhatIfWish };

/** From the worker, with the number of the question; a question that a later one overtook gets no answer, or no curve. */
export type FromWorker =
  | { readonly kind: 'answer'; readonly number: number; readonly answer: LiveAnswer }
  | { readonly kind: 'curve'; readonly number: number; readonly curve: readonly LivePoint[] }
  /** A figure out of reach. */
  | { readonly kind: 'refused'; readonly number: number };
