/** Made-up corrections, cameras and plane formats for the tests of this room. */
import { planeFormatOf, type ClipFacts, type PlaneFormat } from '../../../src/footage/index.js';
import type { Camera } from '../../../src/optics/index.js';
import type { StabilisedView } from '../../../src/proof/index.js';
import { rowChanges, type AngularVibration, type Corrections } from '../../../src/stabilise/index.js';
import type { Samples } from '../../../src/vision/index.js';

export const FPS = 25;

/** A camera of 40 degrees across. */
export function cameraOf(widthPx: number, heightPx: number, distortion: Camera['distortion'] = null): Camera {
  return {
    ...{ widthPx, heightPx, focalPx: 1.37 * widthPx, distortion },
    ...{ centreXPx: (widthPx - 1) / 2, centreYPx: (heightPx - 1) / 2 },
  };
}

/** Some barrel, as of a short lens. */
export const BARREL = { k1: -0.12, k2: 0.02, p1: 0.0005, p2: -0.0003, k3: 0 } as const;

/** A shake of some tenths of a degree on all axes, `size` times as strong. */
export function shake(frames: number, size = 1): AngularVibration {
  const swing = (deg: number, freqHz: number, phase: number): Float64Array =>
    Float64Array.from(
      { length: frames },
      (_, t) => ((size * deg * Math.PI) / 180) * Math.sin((2 * Math.PI * freqHz * t) / FPS + phase),
    );
  return { pan: swing(0.3, 3.1, 0.2), tilt: swing(0.25, 4.3, 1.1), roll: swing(0.5, 2.3, 2) };
}

/** The same turn in every frame, degrees. */
export function steady(frames: number, panDeg: number, tiltDeg: number, rollDeg: number): Corrections {
  const column = (deg: number): Float64Array => new Float64Array(frames).fill((deg * Math.PI) / 180);
  return { vibration: { pan: column(panDeg), tilt: column(tiltDeg), roll: column(rollDeg) }, rows: null };
}

/** Corrections whose frames are also turned row by row, over a readout of 20 ms. */
export function rolling(vibration: AngularVibration): Corrections {
  return { vibration, rows: rowChanges(vibration, FPS, 0.02) };
}

/** Evenly spaced frames seen through a centred window of zoom 1 and of the camera's shape. */
export function viewOf(
  corrections: Corrections,
  camera: Camera,
  rest: Partial<StabilisedView> = {},
): StabilisedView {
  return {
    timeS: Float64Array.from(corrections.vibration.pan, (_, t) => t / FPS),
    ...{ corrections, camera, window: { kind: 'centred', zoom: 1 } },
    ...{ shape: camera.heightPx / camera.widthPx, ...rest },
  };
}

/** Facts of a clip with this stored picture and nothing special about it. */
export function madeFacts(
  storedWidthPx: number,
  storedHeightPx: number,
  rest: Partial<ClipFacts> = {},
): ClipFacts {
  return {
    ...{ file: 'corridor.mp4', codec: 'h264', pixelFormat: 'yuv420p', bitDepth: 8 },
    ...{ widthPx: storedWidthPx, heightPx: storedHeightPx, storedWidthPx, storedHeightPx },
    ...{ rotationDeg: 0, mirrored: false, pixelAspect: 1, fps: FPS, fpsFraction: '25/1' },
    ...{ variableRate: false, interlaced: false, colourTransfer: null },
    colour: { primaries: null, transfer: null, matrix: null, range: 'tv', chromaLocation: 'left' },
    ...{ hasAudio: false, sound: [], frameCount: 10, durationS: 0.4, startTimeS: 0 },
    ...{ hasTimeStamps: true, timecodeStart: null, ...rest },
  };
}

/** The planes of a picture given as a function of its stored luma place, for each plane. */
export function planesOf(
  format: PlaneFormat,
  level: (x: number, y: number, plane: number) => number,
): Samples[] {
  const most = 2 ** format.bitDepth - 1;
  return format.planes.map(({ widthPx, heightPx, stepX, stepY, offsetX, offsetY }, k) => {
    const plane = new (format.bytesPerSample === 1 ? Uint8Array : Uint16Array)(widthPx * heightPx);
    for (let i = 0; i < plane.length; i++) {
      const x = stepX * (i % widthPx) + offsetX;
      const y = stepY * Math.floor(i / widthPx) + offsetY;
      plane[i] = Math.max(0, Math.min(most, Math.round(level(x, y, k))));
    }
    return plane;
  });
}

/** A plain format of this size. */
export function formatOf(widthPx: number, heightPx: number, rest: Partial<ClipFacts> = {}): PlaneFormat {
  return planeFormatOf(madeFacts(widthPx, heightPx, rest));
}
