/**
 * The profile of a run with its joints and bumps in it: heights along the run in metres, as the passband holds them.
 *
 * A step is no roughness: smoothed as such it would come out too low. What is listed is taken out of the deck's series with its height
 * and shape, the rest is smoothed as a rough floor, and the shapes are put back, with the error of their heights and places.
 */
import { fourthDifferenceVibration } from '../../numerics/index.js';
import { withoutHeights, type RolledDeck } from '../deck/rolled-deck.js';
import { framesTogether } from '../profile/stretches.js';
import { surfaceProfile } from '../profile/surface-profile.js';
import type { FloorLevels, SurfaceProfile } from '../profile/types.js';
import { unitShape } from './shapes.js';
import type { FloorEvent } from './types.js';

/**
 * Heights along the run.
 *
 * @param levels of the floor between the events
 * @param events of this deck, as listed
 * @param blurM way of the dolly during an exposure
 * @returns null when the pass does not show the mean of the wheel tracks
 */
export function profileWithEvents(
  deck: RolledDeck,
  levels: FloorLevels,
  events: readonly FloorEvent[],
  blurM: number,
): SurfaceProfile | null {
  const shapes = events.map((event) => addedShape(event, blurM));
  const sumAt = (heightOf: (shape: AddedShape) => number) => (placeM: number) =>
    shapes.reduce((sum, shape) => sum + heightOf(shape) * shape.at(placeM), 0);
  const mean = sumAt(({ event }) => event.heightM);
  const difference = sumAt(({ event: { sides } }) => (sides === null ? 0 : sides.leftM - sides.rightM));
  const profile = surfaceProfile(
    withoutHeights(
      deck,
      (places) => places.map(mean),
      (places) => places.map(difference),
    ),
    levels,
  );
  if (profile === null || shapes.length === 0) return profile;

  const { distanceM, heightM, sdM, sides } = profile;
  const rateHz = deck.rateHz / framesTogether(deck);
  const held = (at: (placeM: number) => number): Float64Array =>
    fourthDifferenceVibration(distanceM.map(at), rateHz, deck.cutoffHz);
  const added = held(mean);
  const addedHalf = held((placeM) => difference(placeM) / 2);
  const errors = shapes.map((shape) => ({
    event: shape.event,
    unit: held(shape.at),
    moved: held(
      (placeM) => (shape.at(placeM - shape.event.atSdM) - shape.at(placeM + shape.event.atSdM)) / 2,
    ),
  }));
  const sdWith = (
    sds: Float64Array,
    sdOf: (event: FloorEvent) => number,
    heightOf: (event: FloorEvent) => number,
  ) =>
    sds.map((sd, i) =>
      Math.sqrt(
        errors.reduce(
          (sum, { event, unit, moved }) =>
            sum + (sdOf(event) * unit[i]) ** 2 + (heightOf(event) * moved[i]) ** 2,
          sd ** 2,
        ),
      ),
    );
  return {
    distanceM,
    heightM: heightM.map((height, i) => height + added[i]),
    sdM: sdWith(
      sdM,
      ({ heightSdM }) => heightSdM,
      (event) => event.heightM,
    ),
    sides: sides && {
      leftM: sides.leftM.map((height, i) => height + added[i] + addedHalf[i]),
      rightM: sides.rightM.map((height, i) => height + added[i] - addedHalf[i]),
      sdM: sdWith(
        sides.sdM,
        (event) => event.sides?.sdM ?? event.heightSdM,
        (event) =>
          Math.max(Math.abs(event.sides?.leftM ?? event.heightM), Math.abs(event.sides?.rightM ?? 0)),
      ),
    },
  };
}

/** An event as it lies on the floor: unit height along the run. */
interface AddedShape {
  readonly event: FloorEvent;
  readonly at: (placeM: number) => number;
}

function addedShape(event: FloorEvent, blurM: number): AddedShape {
  const { kind, lengthM, atM } = event;
  const unit = unitShape({ shape: kind === 'joint' ? 'step' : kind, lengthM }, blurM);
  // A narrow dip of unit depth goes down; heights of dips are below zero.
  const sign = unit.heightAt(0) < 0 ? -1 : 1;
  return { event, at: (placeM) => sign * unit.heightAt(placeM - atM) };
}
