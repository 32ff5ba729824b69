/** No border at the foretold crop, and one a hair below it: for every kind of window, lens and readout. */
import { describe, expect, it } from 'vitest';
import type { Camera } from '../../src/optics/index.js';
import { distancesOutside, type ProofWindow } from '../../src/proof/index.js';
import {
  exactCrop,
  offCentreCrop,
  smoothBelow,
  turnOfFrame,
  type Corrections,
} from '../../src/stabilise/index.js';
import { BARREL, cameraOf, rolling, shake, viewOf } from './support/made-view.js';

const SOURCE = { widthPx: 1920, heightPx: 1080 };
const FRAMES = 60;
/** A crop this much smaller, in points of per cent of the width, must show a border: the accuracy that is promised. */
const POINTS_LESS = 0.2;

const camera = cameraOf(960, 540);
const plain: Corrections = { vibration: shake(FRAMES), rows: null };
const CASES: readonly (readonly [string, Corrections, Camera])[] = [
  ['a plain camera', plain, camera],
  ['a lens with distortion', plain, cameraOf(960, 540, BARREL)],
  ['a sensor read row by row', rolling(shake(FRAMES)), camera],
  ['both', rolling(shake(FRAMES)), cameraOf(960, 540, BARREL)],
];

function framesOutside(corrections: Corrections, of: Camera, window: ProofWindow, shape?: number): number {
  const view = viewOf(corrections, of, { window, ...(shape === undefined ? {} : { shape }) });
  const turns = Array.from({ length: FRAMES }, (_, t) => turnOfFrame(corrections, t));
  return distancesOutside(SOURCE, view, turns, view.timeS).filter((px) => px > 0).length;
}

/** The zoom of a crop that is some points of per cent smaller. */
function looser(zoom: number): number {
  return 1 / (1 / zoom + POINTS_LESS / 100);
}

describe('the border of the recorded picture', () => {
  it.each(CASES)(
    'does not show at the foretold centred crop, but does 0.2 points below it: %s',
    (_, corrections, of) => {
      for (const shape of [undefined, 9 / 16, 16 / 9, 1 / 2.39]) {
        const { zoom } = exactCrop(corrections, of, shape);
        expect(framesOutside(corrections, of, { kind: 'centred', zoom }, shape)).toBe(0);
        expect(
          framesOutside(corrections, of, { kind: 'centred', zoom: looser(zoom) }, shape),
        ).toBeGreaterThan(0);
      }
    },
  );

  it.each(CASES)(
    'does not show in the foretold window off the middle, but does 0.2 points below it: %s',
    (_, given, of) => {
      // A camera that leans to one side: the window follows.
      const leaning = { ...given.vibration, pan: given.vibration.pan.map((pan) => pan + 0.006) };
      const corrections = { ...given, vibration: leaning };
      const { zoom, offsetXPx, offsetYPx } = offCentreCrop(corrections, of);
      expect(Math.abs(offsetXPx)).toBeGreaterThan(3);
      const window = { kind: 'offCentre', offsetXPx, offsetYPx } as const;
      expect(framesOutside(corrections, of, { ...window, zoom })).toBe(0);
      expect(framesOutside(corrections, of, { ...window, zoom: looser(zoom) })).toBeGreaterThan(0);
      expect(framesOutside(corrections, of, { kind: 'centred', zoom })).toBeGreaterThan(0);
    },
  );

  it('does not show in a zoom that moves with what each frame allows', () => {
    for (const [, corrections, of] of CASES) {
      const { halfWidthShare } = exactCrop(corrections, of);
      const zoom = smoothBelow(halfWidthShare, 5).map((share) => 1 / share);
      expect(Math.max(...zoom) - Math.min(...zoom)).toBeGreaterThan(0.002);
      expect(framesOutside(corrections, of, { kind: 'moving', zoom })).toBe(0);
      expect(framesOutside(corrections, of, { kind: 'moving', zoom: zoom.map(looser) })).toBeGreaterThan(0);
    }
  });

  it('is as far away as the frame was turned', () => {
    // A pan of 1 degree moves the middle by f tan(1 deg), in the stored picture twice that of the analysis; a little more at the edge.
    const panRad = new Float64Array(FRAMES).fill(Math.PI / 180);
    const none = new Float64Array(FRAMES);
    const corrections = { vibration: { pan: panRad, tilt: none, roll: none }, rows: null };
    const view = viewOf(corrections, camera);
    const px = distancesOutside(SOURCE, view, [turnOfFrame(corrections, 0)], view.timeS.subarray(0, 1));
    const shiftPx = 2 * camera.focalPx * Math.tan(Math.PI / 180);
    expect(px[0]).toBeGreaterThan(shiftPx);
    expect(px[0]).toBeLessThan(1.2 * shiftPx);
  });
});
