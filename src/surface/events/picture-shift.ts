/**
 * How far one joint, bump or dip moves the picture, px at the delivery size, before any stabilisation: the rigid deck's own pitch and
 * roll (radians) and heave (metres) over it, above the lower edge of the vibration band.
 *
 * One axle over a height h pitches the deck by h / L, left minus right rolls it by half of that over the track width, and either
 * axle lifts the lens by h / 2. Own derivation.
 */
import { fourthDifferenceVibration } from '../../numerics/index.js';
import { cameraFromDeck } from '../deck/deck-kinematics.js';
import type { RolledDeck } from '../deck/rolled-deck.js';
import { unitShape } from './shapes.js';
import type { FoundEvent } from './types.js';

/** Room for the high-pass before and after the event, periods of its cut-off. */
const MARGIN_PERIODS = 2;

/** How the picture is framed: focal length and frame in px of the delivery, lens azimuth against travel + right. */
export interface PictureView {
  readonly focalPx: number;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly azimuthRad: number;
  /** Distance of the subject, metres; null when not known, and heave then does not count. */
  readonly medianDepthM: number | null;
  /** Lower edge of the vibration band; that of the deck when left out. */
  readonly cutoffHz?: number;
}

/** An event with the heights that the deck rolls over. */
export interface RolledOver extends Pick<FoundEvent, 'placeM' | 'shape' | 'lengthM'> {
  /** Mean of both wheel lines, + up, metres. */
  readonly meanM: number;
  /** Left minus right, metres; null when not known. */
  readonly differenceM: number | null;
}

/** Motion of the deck on its way over one event, a frame apart; nothing is high-passed. */
export interface DeckResponse {
  readonly rateHz: number;
  readonly pitchRad: Float64Array;
  readonly rollRad: Float64Array;
  readonly heaveM: Float64Array;
}

/**
 * The deck over one event, at the speed that it has there, from well before the front axle meets it until well after the rear one
 * has.
 *
 * @param marginS time before and after, seconds
 */
export function deckResponse(event: RolledOver, deck: RolledDeck, marginS: number): DeckResponse {
  const { rateHz, exposureS, wheelbaseM, frontAheadM, trackWidthM } = deck;
  const stepM = stepAt(deck, event.placeM);
  const unit = unitShape(event, exposureS * rateHz * stepM);
  const sign = unit.heightAt(0) < 0 ? -1 : 1;
  const margin = Math.ceil(marginS * rateHz);
  const frames = 2 * margin + Math.ceil(frontAheadM / stepM) + 1;
  const rear = Float64Array.from(
    { length: frames },
    (_, i) => sign * unit.heightAt((i - margin) * stepM - frontAheadM),
  );
  const front = Float64Array.from({ length: frames }, (_, i) => sign * unit.heightAt((i - margin) * stepM));
  const rollPerM = trackWidthM === null ? 0 : (event.differenceM ?? 0) / (2 * trackWidthM);
  return {
    rateHz,
    pitchRad: front.map((ahead, i) => (event.meanM * (ahead - rear[i])) / wheelbaseM),
    rollRad: front.map((ahead, i) => rollPerM * (ahead + rear[i])),
    heaveM: front.map((ahead, i) => (event.meanM * (ahead + rear[i])) / 2),
  };
}

/**
 * The largest shift that an event gives the middle or a corner of the frame, px at the delivery size, unstabilised.
 *
 * Heave counts at the distance of the subject only, and the lens's way along on its height over the floor not at all.
 */
export function pictureShiftPx(event: RolledOver, deck: RolledDeck, view: PictureView): number {
  const cutoffHz = view.cutoffHz ?? deck.cutoffHz;
  const { rateHz, pitchRad, rollRad, heaveM } = deckResponse(event, deck, MARGIN_PERIODS / cutoffHz);
  const shake = (series: Float64Array): Float64Array => fourthDifferenceVibration(series, rateHz, cutoffHz);
  const [tilt, roll] = cameraFromDeck([shake(pitchRad), shake(rollRad)], view.azimuthRad);
  const lift = view.medianDepthM === null ? null : shake(heaveM);
  const { focalPx, widthPx, heightPx, medianDepthM } = view;
  let largest = 0;
  for (const x of [0, (widthPx - 1) / 2, (1 - widthPx) / 2]) {
    for (const y of x === 0 ? [0] : [(heightPx - 1) / 2, (1 - heightPx) / 2]) {
      for (let i = 0; i < tilt.length; i++) {
        const [dx, dy] = shiftPx([x, y], tilt[i], roll[i], focalPx);
        const lifted = lift === null ? 0 : (focalPx * lift[i]) / medianDepthM!;
        largest = Math.max(largest, Math.hypot(dx, dy + lifted));
      }
    }
  }
  return largest;
}

/** Shift of a point `[x, y]` from the middle of the picture (px, right and down) when the camera tilts up and rolls clockwise, px. */
export function shiftPx(
  [x, y]: readonly [number, number],
  tiltRad: number,
  rollRad: number,
  focalPx: number,
): [number, number] {
  return [(x * y * tiltRad) / focalPx + y * rollRad, (focalPx + y ** 2 / focalPx) * tiltRad - x * rollRad];
}

/** Way in one frame where the front axle meets a place, metres. */
function stepAt({ rearM, frontAheadM }: RolledDeck, placeM: number): number {
  let i = 1;
  while (i < rearM.length - 1 && rearM[i] + frontAheadM < placeM) i++;
  return rearM[i] - rearM[i - 1];
}
