/** What a floor must come out as: its class, its joints where they are, and few that are not there. */
import { expect } from 'vitest';
import { surfaceClass } from '../../src/surface/index.js';
import { expectWithin } from './expect-within.js';
import { falseEventsAllowed, shareFound, type FloorAccuracy } from './floor-accuracy.js';

/** Share of the joints that must be in the list at their place. */
const LEAST_FOUND = 0.7;

/** Checks class, row of joints, places and false alarms of one clip against its truth. */
export function expectFloor(clip: FloorAccuracy): void {
  const { name, surface, trueGdM3, trueClass } = clip;
  expect(surface.observable, `${name}: ${surface.reason}`).toBe(true);
  if (surface.atMost) {
    // A bound that the true floor breaks would be a wrong grade.
    const bound = surfaceClass(surface.psdAt01CyclesPerM!);
    expect(bound.meanM3, `${name} at most ${bound.name}`).toBeGreaterThanOrEqual(
      surfaceClass(trueGdM3).meanM3,
    );
  } else expect(surface.isoClass, `${name} class`).toBe(trueClass);
  if (clip.jointsM.length > 0) {
    expect(surface.joints, `${name} row of joints`).not.toBeNull();
    expectWithin(surface.joints!.spacingM, clip.jointSpacingM, { rel: 0.01 }, `${name} spacing`);
    expect(shareFound(clip), `${name} joints within 3 cm`).toBeGreaterThanOrEqual(LEAST_FOUND);
  }
  expect(clip.falseEvents.length, `${name} false events`).toBeLessThanOrEqual(falseEventsAllowed(clip));
}

/** Checks that passes over one floor give it one class; a bound of one must not lie below the class of another. */
export function expectSameClass(clips: readonly FloorAccuracy[]): void {
  const classes = clips.map(({ surface }) => surfaceClass(surface.psdAt01CyclesPerM!));
  const told = classes.filter((_, i) => !clips[i].surface.atMost);
  const bounds = classes.filter((_, i) => clips[i].surface.atMost);
  const what = clips.map(({ name }, i) => `${name} ${classes[i].name}`).join(', ');
  expect(new Set(told.map(({ name }) => name)).size, what).toBeLessThanOrEqual(1);
  for (const bound of bounds)
    for (const { meanM3 } of told) expect(bound.meanM3, what).toBeGreaterThanOrEqual(meanM3);
}
