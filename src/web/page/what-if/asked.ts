/** What the panel asks: as the sliders stand, as a wish for the judge, and as it stands in the address of the page. */
import type { WhatIfWish } from '../../../judge/index.js';
import type { RunDocument } from '../../../run/index.js';
import { STABILISE_MODES } from '../../../stabilise/index.js';
import type { AskRanges } from './slider-ranges.js';
import { LIMIT_REACH, type Reach } from './typed-figure.js';

/** Everything that is missing is as measured. */
export interface Asked {
  /** mm, or times the lens used. */
  readonly lens?: number | undefined;
  /** m/s. */
  readonly speed?: number | undefined;
  /** s. */
  readonly smoothing?: number | undefined;
  /** Name of a delivery. */
  readonly delivery?: string | undefined;
  /** Per cent of the width. */
  readonly maxCrop?: number | undefined;
  /** px RMS. */
  readonly maxLeft?: number | undefined;
  readonly mode?: RunDocument['stabilise']['mode'] | undefined;
}

/** Names in the address, those of the command line where there is one. */
const NAMES = {
  lens: 'lens',
  speed: 'speed',
  smoothing: 'smoothing',
  delivery: 'for',
  maxCrop: 'max-crop',
  maxLeft: 'max-residual',
  mode: 'stabilise',
} as const satisfies Record<keyof Asked, string>;

/** The wish of the judge. */
export function wishOf(asked: Asked, { lensInMm, mode }: AskRanges): WhatIfWish {
  const { lens, speed, smoothing, delivery, maxCrop, maxLeft } = asked;
  const way = asked.mode ?? mode;
  const limits = {
    ...(delivery !== undefined && { name: delivery }),
    ...(maxCrop !== undefined && { maxCropPercent: maxCrop }),
    ...(maxLeft !== undefined && { maxResidualPx: maxLeft }),
  };
  return {
    ...(lens !== undefined && (lensInMm ? { focalLengthMm: lens } : { focalFactor: lens })),
    ...(speed !== undefined && { speedMps: speed }),
    ...(Object.keys(limits).length > 0 && { delivery: limits }),
    ...(asked.mode !== undefined && { mode: asked.mode }),
    // Other ways have no smoothing.
    ...(smoothing !== undefined && way === 'keepMove' && { smoothingS: smoothing }),
  };
}

/** What an address asks; what this run cannot be asked is left out. @param deliveries names that are known */
export function askedFrom(query: URLSearchParams, ranges: AskRanges, deliveries: readonly string[]): Asked {
  const number = (name: keyof Asked, low: number, high: number): number | undefined => {
    const value = Number(query.get(NAMES[name]) ?? NaN);
    return value >= low && value <= high && value > 0 ? value : undefined;
  };
  const along = (name: keyof Asked, range: Reach | null): number | undefined =>
    range === null ? undefined : number(name, range.low, range.high);
  const delivery = query.get(NAMES.delivery) ?? undefined;
  const mode = STABILISE_MODES.find((one) => one === query.get(NAMES.mode));
  return withoutMeasured(
    {
      lens: along('lens', ranges.lens),
      speed: along('speed', ranges.speed),
      smoothing: along('smoothing', ranges.smoothing),
      delivery: delivery !== undefined && deliveries.includes(delivery) ? delivery : undefined,
      maxCrop: along('maxCrop', LIMIT_REACH.maxCrop),
      maxLeft: along('maxLeft', LIMIT_REACH.maxLeft),
      mode,
    },
    ranges,
  );
}

/** The address with what is asked; entries of others stay as they are. */
export function withAsked(query: URLSearchParams, asked: Asked): URLSearchParams {
  const next = new URLSearchParams(query);
  for (const [name, written] of Object.entries(NAMES) as [keyof Asked, string][]) {
    const value = asked[name];
    if (value === undefined) next.delete(written);
    else next.set(written, String(value));
  }
  return next;
}

/** Only what differs from the pass. */
export function withoutMeasured(asked: Asked, ranges: AskRanges): Asked {
  const as = (name: 'lens' | 'speed' | 'smoothing'): number | undefined =>
    asked[name] === ranges[name]?.measured ? undefined : asked[name];
  const { delivery, mode, maxCrop, maxLeft } = asked;
  const limits = delivery === undefined ? ranges.delivery : null;
  const kept = {
    lens: as('lens'),
    speed: as('speed'),
    // Smoothing the pass anew asks for something also where the pass stood still.
    smoothing: ranges.mode === 'keepMove' ? as('smoothing') : asked.smoothing,
    delivery,
    maxCrop: maxCrop === limits?.maxCropPercent ? undefined : maxCrop,
    maxLeft: maxLeft === limits?.maxResidualPx ? undefined : maxLeft,
    mode: mode === ranges.mode ? undefined : mode,
  };
  return Object.fromEntries(Object.entries(kept).filter(([, value]) => value !== undefined));
}

/** True when nothing is asked. */
export function asksNothing(asked: Asked): boolean {
  return Object.keys(asked).length === 0;
}
