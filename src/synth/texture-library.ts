/** All textures of the made-up scenes by name, drawn when first needed and kept; the same on every machine. */
import { seededRandom } from '../numerics/index.js';
import { bicycle, figureLeg, figureTrunk, type CutoutPattern } from './cutout-patterns.js';
import * as objects from './object-patterns.js';
import type { Pattern } from './pattern.js';
import { makeTexture, type Texture } from './texture.js';
import * as walls from './wall-patterns.js';

type Random = () => number;

interface Recipe {
  readonly draw: (random: Random) => Pattern;
  /** Seen at grazing angles. */
  readonly grazing?: boolean;
}

const GLAZED = { tile: 0.7, spread: 0.1, joint: 0.32, oddShare: 0.06 };
const QUARRY = { tile: 0.44, spread: 0.11, joint: 0.2, oddShare: 0.06 };

const SOLID = {
  concrete: { draw: walls.concrete, grazing: true },
  plaster: { draw: walls.plaster, grazing: true },
  glazedTiles: { draw: (random: Random) => walls.tiles(random, 8, 8, GLAZED), grazing: true },
  floorTiles: { draw: (random: Random) => walls.tiles(random, 4, 4, QUARRY), grazing: true },
  brick: { draw: walls.brick, grazing: true },
  plywood: { draw: walls.plywood, grazing: true },
  planks: { draw: objects.planks, grazing: true },
  aluminium: { draw: walls.aluminium, grazing: true },
  speckle: { draw: walls.speckle },
  crate: { draw: objects.crate },
  cardboard: { draw: objects.cardboard },
  drawers: { draw: objects.drawers },
  toolBoard: { draw: objects.toolBoard },
  window: { draw: objects.windowPanes },
  steel: { draw: objects.steel },
} satisfies Record<string, Recipe>;

const CUTOUTS = {
  lightBicycle: (random: Random) => bicycle(random, 0.62),
  darkBicycle: (random: Random) => bicycle(random, 0.24),
  trunk: figureTrunk,
  leg: figureLeg,
} satisfies Record<string, (random: Random) => CutoutPattern>;

/** Name of a solid texture. */
export type SolidName = keyof typeof SOLID;
/** Name of a cut-out: one texture of luminance, one of opacity. */
export type CutoutName = keyof typeof CUTOUTS;

/** Luminance (already multiplied by opacity) and opacity of a cut-out. */
export interface CutoutTextures {
  readonly luma: Texture;
  readonly opacity: Texture;
}

/** Where scenes take their textures from; can be sent to another thread, the texels are shared. */
export interface TextureLibrary {
  readonly solid: Partial<Record<SolidName, Texture>>;
  readonly cutout: Partial<Record<CutoutName, CutoutTextures>>;
}

/** Textures drawn so far in this thread; they depend on nothing but their name. */
const drawn: {
  solid: Partial<Record<SolidName, Texture>>;
  cutout: Partial<Record<CutoutName, CutoutTextures>>;
} = {
  solid: {},
  cutout: {},
};

/** The library of this thread. */
export function textureLibrary(): TextureLibrary {
  return drawn;
}

/** Takes over the textures of another thread. */
export function adoptTextures(library: TextureLibrary): void {
  Object.assign(drawn.solid, library.solid);
  Object.assign(drawn.cutout, library.cutout);
}

function textureOf(pattern: Pattern, grazing: boolean): Texture {
  return makeTexture(pattern.values, Math.log2(pattern.width), Math.log2(pattern.height), grazing);
}

/** Seed of a name: its letters. */
function seedOf(name: string): number {
  return [...name].reduce((seed, letter) => (seed * 31 + letter.charCodeAt(0)) % 1_000_003, 7);
}

/** The texture of that name. */
export function solidTexture(name: SolidName): Texture {
  const recipe: Recipe = SOLID[name];
  drawn.solid[name] ??= textureOf(recipe.draw(seededRandom(seedOf(name))), recipe.grazing ?? false);
  return drawn.solid[name];
}

/** The textures of that cut-out. */
export function cutoutTextures(name: CutoutName): CutoutTextures {
  const make = (): CutoutTextures => {
    const { luma, opacity } = CUTOUTS[name](seededRandom(seedOf(name)));
    return { luma: textureOf(luma, false), opacity: textureOf(opacity, false) };
  };
  drawn.cutout[name] ??= make();
  return drawn.cutout[name];
}
