/**
 * The building blocks of a made-up scene: planar textured rectangles in world metres (x right, y down, z forward from the
 * camera's first place).
 */
import type { Texture } from './texture.js';

/** x, y, z in metres, or a direction. */
export type Vec3 = readonly [number, number, number];

/** Red, green, blue factors; their luma by ITU-R BT.709 (0.2126, 0.7152, 0.0722) is 1, so grey is not changed by a tint. */
export type Tint = readonly [number, number, number];

/** Where a rectangle lies: its first corner and its two sides. Seen from its front, `along` runs right and `down` runs down. */
export interface Placement {
  readonly origin: Vec3;
  readonly along: Vec3;
  readonly down: Vec3;
}

/** Smooth light on a rectangle: luminance factors on a coarse grid over its whole area, bilinear in between. */
export interface LightMap {
  readonly columns: number;
  readonly rows: number;
  readonly values: Float32Array;
}

/** One rectangle. */
export interface Surface extends Placement {
  readonly texture: Texture;
  /** Texels over the full length of `along` and `down`; the pattern repeats as often as it must. */
  readonly texelsAlong: number;
  readonly texelsDown: number;
  /** Texel at the first corner. */
  readonly startU: number;
  readonly startV: number;
  readonly tint: Tint;
  readonly light: LightMap;
  /** Opacity of the same size as `texture` (whose luminance is then already multiplied by it); null for solid surfaces. */
  readonly opacity: Texture | null;
  /** True when it is seen from its front only, as the side of a closed box is. */
  readonly oneSided: boolean;
  /** Where it is at a time, for things that move; null for things that stand still. */
  readonly placeAt: ((timeS: number) => Placement) | null;
}

/** What is in front of the camera: solid surfaces, and cut-outs with soft borders that are drawn over them. */
export interface Scene {
  readonly surfaces: readonly Surface[];
  /** Nothing hides a cut-out by halves except solid surfaces; where two overlap the nearer first corner wins. */
  readonly cutouts: readonly Surface[];
}

/** Even light. */
export function evenLight(level: number): LightMap {
  return { columns: 1, rows: 1, values: Float32Array.of(level) };
}

/** Light that changes evenly between the four corners: first, end of `along`, end of `down`, opposite corner. */
export function cornerLight(first: number, along: number, down: number, opposite: number): LightMap {
  return { columns: 2, rows: 2, values: Float32Array.of(first, along, down, opposite) };
}

/** A tint of luma 1 from any red, green, blue. */
export function tint(red: number, green: number, blue: number): Tint {
  const luma = 0.2126 * red + 0.7152 * green + 0.0722 * blue;
  return [red / luma, green / luma, blue / luma];
}
