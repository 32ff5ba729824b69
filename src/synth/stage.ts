/** Builds scenes from boxes, panels and cut-outs in metres; keeps count of what stands where, for shadows and for order. */
import {
  cornerLight,
  tint,
  type LightMap,
  type Placement,
  type Scene,
  type Surface,
  type Tint,
  type Vec3,
} from './surface.js';
import { cutoutTextures, solidTexture, type CutoutName, type SolidName } from './texture-library.js';

/** How a face looks. */
export interface Finish {
  readonly texture: SolidName;
  /** Metres that one texel covers; null: the pattern once over the whole face. */
  readonly texelM: number | null;
  readonly tint: Tint;
  /** Luminance factor. */
  readonly level: number;
}

/** A place on the floor and the direction that things there turn their back to: right = down x back. */
export interface Spot {
  readonly x: number;
  readonly z: number;
  /** 'z': faces the start of the z axis; 'x' and '-x': face the corridor between them. */
  readonly back: 'z' | 'x' | '-x';
}

/** A patch of floor that something stands on. */
export interface Footprint {
  readonly x0: number;
  readonly x1: number;
  readonly z0: number;
  readonly z1: number;
}

/** Extent of a box in its spot's axes: right, height above the floor, backwards; metres. */
export interface BoxExtent {
  readonly right: readonly [number, number];
  readonly height: readonly [number, number];
  readonly back: readonly [number, number];
}

/** A scene in the making. */
export interface Stage {
  readonly scene: { surfaces: Surface[]; cutouts: Surface[] } & Scene;
  readonly footprints: Footprint[];
  readonly random: () => number;
  /** A number between the two. */
  between(low: number, high: number): number;
  /** A closed box; its bottom is drawn when it hangs above eye level. */
  box(spot: Spot, extent: BoxExtent, finish: Finish): void;
  /** One rectangle; `light` replaces the finish's level. */
  panel(place: Placement, finish: Finish, light?: LightMap): void;
  /** A flat cut-out that stands upright at a spot, facing the camera's side. */
  cutout(place: Placement, name: CutoutName, level: number, shade: Tint, placeAt?: Surface['placeAt']): void;
}

/** Light on the faces of things: front, sides, top, underside, and the share left near the floor. */
const FRONT = 0.95;
const LEFT = 0.66;
const RIGHT = 0.8;
const TOP = 1.12;
const UNDERSIDE = 0.3;
const NEAR_FLOOR = 0.8;

const length = (v: Vec3): number => Math.hypot(v[0], v[1], v[2]);

/** Makes an empty stage. @param floorY height of the floor in world coordinates, positive = below the camera */
export function createStage(floorY: number, random: () => number): Stage {
  const scene = { surfaces: [] as Surface[], cutouts: [] as Surface[] };
  const footprints: Footprint[] = [];

  function panel(place: Placement, finish: Finish, light?: LightMap): void {
    const texture = solidTexture(finish.texture);
    const { texelM } = finish;
    const along = length(place.along);
    const down = length(place.down);
    scene.surfaces.push({
      ...place,
      texture,
      texelsAlong: texelM === null ? 1 << texture.widthLog2 : along / texelM,
      texelsDown: texelM === null ? 1 << texture.heightLog2 : down / texelM,
      startU: texelM === null ? 0 : Math.floor(random() * 1024),
      startV: texelM === null ? 0 : Math.floor(random() * 1024),
      tint: finish.tint,
      light: light ?? cornerLight(finish.level, finish.level, finish.level, finish.level),
      opacity: null,
      oneSided: true,
      placeAt: null,
    });
  }

  function axesOf(spot: Spot): { right: Vec3; back: Vec3 } {
    if (spot.back === 'z') return { right: [1, 0, 0], back: [0, 0, 1] };
    return spot.back === 'x'
      ? { right: [0, 0, -1], back: [1, 0, 0] }
      : { right: [0, 0, 1], back: [-1, 0, 0] };
  }

  function box(spot: Spot, extent: BoxExtent, finish: Finish): void {
    const { right, back } = axesOf(spot);
    const [r0, r1] = extent.right;
    const [b0, b1] = extent.back;
    const [bottom, top] = extent.height;
    const at = (r: number, height: number, b: number): Vec3 => [
      spot.x + r * right[0] + b * back[0],
      floorY - height,
      spot.z + r * right[2] + b * back[2],
    ];
    const times = (v: Vec3, k: number): Vec3 => [v[0] * k, v[1] * k, v[2] * k];
    const w = r1 - r0;
    const d = b1 - b0;
    const down: Vec3 = [0, top - bottom, 0];
    const upright = (factor: number): LightMap => {
      const upper = finish.level * factor;
      const lower = upper * (bottom < 0.05 ? NEAR_FLOOR : 0.95);
      return cornerLight(upper, upper, lower, lower);
    };
    const level = (factor: number): LightMap =>
      cornerLight(...([1, 1, 1, 1].map(() => finish.level * factor) as [number, number, number, number]));
    panel({ origin: at(r0, top, b0), along: times(right, w), down }, finish, upright(FRONT));
    panel({ origin: at(r0, top, b1), along: times(back, -d), down }, finish, upright(LEFT));
    panel({ origin: at(r1, top, b0), along: times(back, d), down }, finish, upright(RIGHT));
    if (top < floorY + 0.3)
      panel({ origin: at(r0, top, b1), along: times(right, w), down: times(back, -d) }, finish, level(TOP));
    if (bottom > floorY - 0.3)
      panel(
        { origin: at(r0, bottom, b0), along: times(right, w), down: times(back, d) },
        finish,
        level(UNDERSIDE),
      );
    if (bottom < 0.05) {
      const a = at(r0, 0, b0);
      const c = at(r1, 0, b1);
      footprints.push({
        x0: Math.min(a[0], c[0]),
        x1: Math.max(a[0], c[0]),
        z0: Math.min(a[2], c[2]),
        z1: Math.max(a[2], c[2]),
      });
    }
  }

  function cutout(
    place: Placement,
    name: CutoutName,
    level: number,
    shade: Tint,
    placeAt: Surface['placeAt'] = null,
  ): void {
    const { luma, opacity } = cutoutTextures(name);
    scene.cutouts.push({
      ...place,
      texture: luma,
      texelsAlong: 1 << luma.widthLog2,
      texelsDown: 1 << luma.heightLog2,
      startU: 0,
      startV: 0,
      tint: shade,
      light: cornerLight(level, level, level * 0.85, level * 0.85),
      opacity,
      oneSided: false,
      placeAt,
    });
  }

  return {
    scene,
    footprints,
    random,
    between: (low, high) => low + (high - low) * random(),
    box,
    panel,
    cutout,
  };
}

/** Tints of the workshop. */
export const TINTS = {
  grey: tint(1, 1, 1),
  warmGrey: tint(1.04, 1, 0.94),
  coolGrey: tint(0.96, 1, 1.05),
  cream: tint(1.07, 1.01, 0.84),
  green: tint(0.72, 1.08, 0.88),
  blue: tint(0.72, 1, 1.3),
  teal: tint(0.62, 1.06, 1.1),
  red: tint(1.6, 0.8, 0.66),
  terracotta: tint(1.3, 0.93, 0.8),
  ochre: tint(1.24, 0.98, 0.56),
  wood: tint(1.22, 0.97, 0.66),
  darkWood: tint(1.2, 0.96, 0.72),
  card: tint(1.16, 0.98, 0.74),
  white: tint(1, 1, 1.02),
} as const;
