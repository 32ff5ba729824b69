/**
 * Power of the deck's channels, or of a weighted sum of them, that a fitted floor gives a setup, and how it moves with each thing
 * that is not known exactly: (rad)^2, m^2, or px^2 after weighting.
 */
import { rms, TWO_SIDED_95 } from '../../numerics/index.js';
import type { DeckChannel } from '../deck/deck-transfer.js';
import { eventShake, type EventShake } from './event-shake.js';
import { floorShape, type FloorShape } from './floor-shape.js';
import { binMiddle, roughShake } from './rough-shake.js';
import type { PredictedEvent, PredictedFloor, PredictedWheel, SetupForPrediction } from './types.js';

/** Beyond the waves that were shown the spectrum may bend by as much again (sd of the exponent): it is not seen, and tracks grow alike. */
const UNSEEN_WAVINESS_SD = 0.8;
/** Sd of ln of the contact that a fit finds: it looks for it in steps of 15 % and short waves are weak. */
const CONTACT_SD = 0.3;
/** Sd of ln power of events whose heights were exact: their shapes are simpler than joints are; and what other wheels make of them. */
const EVENT_SHAPE_SD = 0.2;
const EVENT_OTHER_WHEEL_SD = 0.4;

/** Power with the change that one standard deviation of each unknown makes; all of it linear in the power. */
export interface ModelPower {
  readonly roughness: number;
  readonly events: number;
  /** Roughness by wave of the floor, bins of `binEdge`. */
  readonly byWave: Float64Array;
  /** Roughness from waves that the pass did not show. */
  readonly unseen: number;
  readonly perUnknown: Readonly<Record<Unknown, number>>;
}

/**
 * Level of the floor, its exponent, the exponent beyond the waves shown, the contact of the wheels as fitted, the contact of other
 * wheels, heights and shapes of the events, and what other wheels make of them.
 */
export const UNKNOWNS = [
  'level',
  'waviness',
  'unseenWaviness',
  'contact',
  'otherWheel',
  'events',
  'eventsOnOtherWheel',
] as const;
/** One of them. */
export type Unknown = (typeof UNKNOWNS)[number];

const CHANNELS: readonly DeckChannel[] = ['pitch', 'heave', 'roll'];

/** Factor on the power of each channel; 0 leaves it out. */
export type ChannelWeights = Readonly<Record<DeckChannel, number>>;

/** The channels that the floor and the setup allow, and the series of the events. */
export interface ChannelPowers {
  readonly powers: ReadonlyMap<DeckChannel, ModelPower>;
  readonly events: EventShake;
}

/** Half-power wavenumber of a wheel's contact: a patch grows with the square root of the diameter. */
export function contactOf(floor: PredictedFloor, wheel: PredictedWheel): number {
  return wheel.contactCyclesPerM ?? floor.contactCyclesPerM / Math.sqrt(wheel.diameterFactor);
}

/** Powers of all channels; null when the run is too short to have a vibration band at this speed. */
export function channelPowers(floor: PredictedFloor, setup: SetupForPrediction): ChannelPowers | null {
  const contact = contactOf(floor, setup.wheel);
  const events = eventShake(floor, setup, contact);
  if (events === null) return null;
  const shape = floorShape(floor);
  const rough = roughShake(shape, setup, contact);
  const series = { pitch: events.pitchRad, heave: events.heaveM, roll: events.rollRad };
  const powers = new Map<DeckChannel, ModelPower>();
  for (const [channel, { byWave }] of rough) {
    const levelM3 = channel === 'roll' ? floor.differenceM3 : floor.meanTrackM3;
    if (levelM3 === null) continue;
    const atLevel = byWave.map((power) => levelM3 * power);
    powers.set(channel, channelPower(channel, atLevel, shape, floor, setup, series[channel]));
  }
  return { powers, events };
}

/** Weighted sum of channels, px^2 when the weights turn angles into px; null when a channel with weight is missing. */
export function weighted(
  powers: ReadonlyMap<DeckChannel, ModelPower>,
  weights: ChannelWeights,
): ModelPower | null {
  let sum: ModelPower | null = null;
  for (const channel of CHANNELS) {
    const weight = weights[channel];
    if (weight === 0) continue;
    const power = powers.get(channel);
    if (power === undefined) return null;
    sum = sum === null ? scaled(power, weight) : added(sum, scaled(power, weight));
  }
  return sum;
}

function scaled(power: ModelPower, weight: number): ModelPower {
  return {
    roughness: weight * power.roughness,
    events: weight * power.events,
    byWave: power.byWave.map((value) => weight * value),
    unseen: weight * power.unseen,
    perUnknown: eachUnknown((unknown) => weight * power.perUnknown[unknown]),
  };
}

function added(a: ModelPower, b: ModelPower): ModelPower {
  return {
    roughness: a.roughness + b.roughness,
    events: a.events + b.events,
    byWave: a.byWave.map((value, i) => value + b.byWave[i]),
    unseen: a.unseen + b.unseen,
    perUnknown: eachUnknown((unknown) => a.perUnknown[unknown] + b.perUnknown[unknown]),
  };
}

function eachUnknown(valueOf: (unknown: Unknown) => number): Record<Unknown, number> {
  return Object.fromEntries(UNKNOWNS.map((unknown) => [unknown, valueOf(unknown)])) as Record<
    Unknown,
    number
  >;
}

function channelPower(
  channel: DeckChannel,
  byWave: Float64Array,
  shape: FloorShape,
  floor: PredictedFloor,
  { wheel }: SetupForPrediction,
  series: Float64Array | null,
): ModelPower {
  const heights = heightMoments(floor.events, channel, wheel.diameterFactor);
  const events = series === null ? 0 : rms(series) ** 2 * heights.spreadFactor;
  const waves = waveMoments(byWave, shape, contactOf(floor, wheel));
  return {
    roughness: waves.power,
    events,
    byWave,
    unseen: waves.unseen,
    perUnknown: {
      level: waves.power * floor.sdLn,
      waviness: waves.fromPivot * shape.exponentSd,
      unseenWaviness: waves.fromEdge * UNSEEN_WAVINESS_SD,
      // A contact that is given does not lean on the fitted one.
      contact: wheel.contactCyclesPerM === null ? waves.perLnContact * CONTACT_SD : 0,
      otherWheel: (waves.perLnContact * Math.log(wheel.contactFactor95)) / TWO_SIDED_95,
      events: events * Math.hypot(heights.sdLn, EVENT_SHAPE_SD),
      eventsOnOtherWheel: wheel.contactFactor95 === 1 ? 0 : events * EVENT_OTHER_WHEEL_SD,
    },
  };
}

interface WaveMoments {
  readonly power: number;
  /** Outside of the waves shown. */
  readonly unseen: number;
  /** Power times ln of how far a wave is from the pivot, and how far beyond the edge of the band. */
  readonly fromPivot: number;
  readonly fromEdge: number;
  /** Change of the power with ln of the contact's wavenumber. */
  readonly perLnContact: number;
}

function waveMoments(
  byWave: Float64Array,
  { lowestCyclesPerM, highestCyclesPerM, pivotCyclesPerM }: FloorShape,
  contactCyclesPerM: number,
): WaveMoments {
  const sums = { power: 0, unseen: 0, fromPivot: 0, fromEdge: 0, perLnContact: 0 };
  byWave.forEach((power, bin) => {
    if (power === 0) return;
    const n = binMiddle(bin);
    const inBand = Math.max(lowestCyclesPerM, Math.min(highestCyclesPerM, n));
    sums.power += power;
    if (n !== inBand) sums.unseen += power;
    sums.fromPivot += power * Math.log(n / pivotCyclesPerM);
    sums.fromEdge += power * Math.log(n / inBand);
    sums.perLnContact += power * 2 * Math.LN2 * (n / contactCyclesPerM) ** 2;
  });
  return sums;
}

/**
 * How far heights that are known with an error misstate the power of the events: its expectation over that of the heights as listed,
 * and the sd of its ln.
 */
function heightMoments(
  events: readonly PredictedEvent[],
  channel: DeckChannel,
  diameterFactor: number,
): { spreadFactor: number; sdLn: number } {
  let listed = 0;
  let expected = 0;
  let variance = 0;
  for (const event of events) {
    const heightM = channel === 'roll' ? (event.differenceM ?? 0) : event.heightM;
    const onWheel = event.kind === 'dip' ? heightM / diameterFactor : heightM;
    // A dip that is shallow and wide, no gap, stays as it is under another wheel.
    const bySize = (onWheel - heightM) / 2;
    const sd = Math.hypot((channel === 'roll' ? 2 : 1) * event.heightSdM, bySize);
    listed += onWheel ** 2;
    expected += onWheel ** 2 + event.heightSdM ** 2;
    variance += (2 * onWheel * sd) ** 2;
  }
  if (listed === 0) return { spreadFactor: 1, sdLn: 0 };
  return { spreadFactor: expected / listed, sdLn: Math.sqrt(variance) / expected };
}
