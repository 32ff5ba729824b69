/** Scans of made-up decks with the floor's level known, and the events that stand by themselves on them. */
import type { RolledDeck } from '../../../src/surface/deck/rolled-deck.js';
import { releaseEvents } from '../../../src/surface/events/release-events.js';
import { ALARMS_PER_M, scanEvents } from '../../../src/surface/events/scan.js';
import type { EventScan, FoundEvent } from '../../../src/surface/events/types.js';

/** Shares of a track's level that the mean of both and left minus right have where the tracks are hardly alike. */
const MEAN_SHARE = 0.53;
const DIFFERENCE_SHARE = 1.9;

export interface ScannedDeck {
  readonly deck: RolledDeck;
  readonly scan: EventScan;
  readonly found: readonly FoundEvent[];
}

export function scanned(deck: RolledDeck, gdM3: number): ScannedDeck {
  const levels = {
    meanTrackM3: MEAN_SHARE * gdM3,
    differenceM3: deck.rollRad ? DIFFERENCE_SHARE * gdM3 : null,
  };
  const scan = scanEvents(deck, levels);
  if (scan === null) throw new Error('the deck shows no pitch');
  return { deck, scan, found: releaseEvents(scan, ALARMS_PER_M.usual).events };
}

/** The deck with a kick of `heightM` and `lengthM` once per `turnM` of the way, in the wheels of the named axles at the same time. */
export function withFlatSpot(
  deck: RolledDeck,
  {
    turnM,
    heightM,
    lengthM,
    axles,
  }: { turnM: number; heightM: number; lengthM: number; axles: 'both' | 'rear' },
): RolledDeck {
  const kick = deck.rearM.map((way) => {
    const along = (way / turnM + 0.37) % 1;
    return along * turnM < lengthM
      ? (-heightM * (1 - Math.cos((2 * Math.PI * along * turnM) / lengthM))) / 2
      : 0;
  });
  const add = (of: RolledDeck['pitchRad'], factor: number): RolledDeck['pitchRad'] =>
    of && { ...of, values: of.values.map((value, i) => value + factor * kick[i]) };
  return axles === 'both'
    ? { ...deck, heaveM: add(deck.heaveM, 1) }
    : { ...deck, heaveM: add(deck.heaveM, 1 / 2), pitchRad: add(deck.pitchRad, -1 / deck.wheelbaseM) };
}
