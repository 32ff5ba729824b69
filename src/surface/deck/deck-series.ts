/**
 * Motion of the deck (pitch and roll in radians, heave in metres) from the path of the lens that stands on it, with the noise of
 * each; nothing is high-passed.
 */
import type { LensDirection, LensPath, NoisySeries } from './lens-path.js';

export type { NoisySeries } from './lens-path.js';

/** How the camera stands on the deck, and what of its motion is the deck's. */
export interface Mounting extends LensDirection {
  /** Camera ahead of the middle between the axles, along the travel, metres. */
  readonly offsetM: number;
  /** Set for a head that keeps itself level: height of the lens over the deck's wheels, metres. Null for any other head. */
  readonly levellingHeightM: number | null;
  /** Whether the lens's turns about the axles and about the travel are the deck's; an operator takes over one of them. */
  readonly pitchShows: boolean;
  readonly rollShows: boolean;
  /** Whether height tells of the floor. */
  readonly heaveShows: boolean;
}

/** Deck motion; null where the clip or the head does not show it. */
export interface DeckSeries {
  readonly pitchRad: NoisySeries | null;
  readonly rollRad: NoisySeries | null;
  readonly heaveM: NoisySeries | null;
}

/**
 * Reads the deck's motion off the lens's.
 *
 * A rigid head turns with the deck. A self-levelling head does not; there the deck's angles show as the way that the lens is carried
 * along by its height: forward = -h pitch, lateral = h roll. Heave is that of the middle between the axles.
 *
 * @throws RangeError for a self-levelling head without translation in metres
 */
export function deckSeries({ pitchRad, rollRad, way }: LensPath, mounting: Mounting): DeckSeries {
  const { levellingHeightM, offsetM } = mounting;
  if (levellingHeightM !== null && way === null)
    throw new RangeError('a self-levelling head needs translation in metres');
  const carried = levellingHeightM !== null && way !== null;
  const pitch = carried ? scaled(way.forwardM, -1 / levellingHeightM) : pitchRad;
  const roll = carried ? scaled(way.lateralM, 1 / levellingHeightM) : rollRad;
  const heaveShows = way !== null && mounting.heaveShows && mounting.pitchShows;
  return {
    pitchRad: mounting.pitchShows ? pitch : null,
    rollRad: mounting.rollShows ? roll : null,
    heaveM: heaveShows ? less(way.verticalM, scaled(pitch, offsetM)) : null,
  };
}

function scaled({ values, noiseSd, leastNoiseSd }: NoisySeries, factor: number): NoisySeries {
  const size = Math.abs(factor);
  return {
    values: values.map((value) => factor * value),
    noiseSd: size * noiseSd,
    leastNoiseSd: size * leastNoiseSd,
  };
}

/** The difference of two series whose errors are independent. */
function less(a: NoisySeries, b: NoisySeries): NoisySeries {
  return {
    values: a.values.map((value, i) => value - b.values[i]),
    noiseSd: Math.hypot(a.noiseSd, b.noiseSd),
    leastNoiseSd: Math.hypot(a.leastNoiseSd, b.leastNoiseSd),
  };
}
