/** Things that stand in the workshop: crates, benches, shelves, cabinets, posts, boards, bicycles. Sizes in metres. */
import { TINTS, type Finish, type Spot, type Stage } from './stage.js';
import type { Placement, Tint } from './surface.js';
import type { SolidName } from './texture-library.js';

/** A finish with a fixed texel size. */
export function finish(texture: SolidName, shade: Tint, level = 1, texelM: number | null = 0.002): Finish {
  return { texture, tint: shade, level, texelM };
}

const PAINTS = [TINTS.red, TINTS.blue, TINTS.teal, TINTS.ochre, TINTS.green, TINTS.warmGrey] as const;

/** One of several, by chance. */
export function pick<T>(stage: Stage, list: readonly T[]): T {
  return list[Math.floor(stage.random() * list.length)];
}

/** Crates on top of each other, up to a height; gives the height reached. */
export function crateStack(stage: Stage, spot: Spot, heightM: number): void {
  let bottom = 0;
  while (bottom + 0.2 < heightM) {
    const h = stage.between(0.24, 0.36);
    const w = stage.between(0.42, 0.58);
    const shift = stage.between(-0.04, 0.04);
    const kind = stage.random();
    const look =
      kind < 0.55
        ? finish('crate', TINTS.wood, stage.between(0.85, 1.15), null)
        : kind < 0.8
          ? finish('cardboard', TINTS.card, stage.between(0.85, 1.15), null)
          : finish('steel', pick(stage, PAINTS), stage.between(0.8, 1.2), 0.0012);
    stage.box(
      spot,
      { right: [shift - w / 2, shift + w / 2], height: [bottom, bottom + h], back: [0, 0.42] },
      look,
    );
    bottom += h;
  }
}

/** A workbench with legs, a lower board and things on it. */
export function bench(stage: Stage, spot: Spot, widthM: number): void {
  const half = widthM / 2;
  const wood = finish('planks', TINTS.wood, 1, 0.0015);
  stage.box(spot, { right: [-half, half], height: [0.82, 0.9], back: [0, 0.7] }, wood);
  for (const r of [-half + 0.06, half - 0.14]) {
    stage.box(spot, { right: [r, r + 0.08], height: [0, 0.82], back: [0.04, 0.12] }, wood);
    stage.box(spot, { right: [r, r + 0.08], height: [0, 0.82], back: [0.58, 0.66] }, wood);
  }
  stage.box(spot, { right: [-half + 0.1, half - 0.1], height: [0.2, 0.24], back: [0.06, 0.62] }, wood);
  for (let r = -half + 0.15; r < half - 0.3; r += stage.between(0.35, 0.7)) {
    const w = stage.between(0.14, 0.3);
    const h = stage.between(0.08, 0.34);
    const look =
      stage.random() < 0.5
        ? finish('steel', pick(stage, PAINTS), stage.between(0.7, 1.2), 0.0009)
        : finish('cardboard', TINTS.card, 1, null);
    stage.box(spot, { right: [r, r + w], height: [0.9, 0.9 + h], back: [0.15, 0.4] }, look);
    if (stage.random() < 0.5) {
      stage.box(
        spot,
        { right: [r, r + w + 0.05], height: [0.24, 0.24 + h], back: [0.12, 0.5] },
        finish('crate', TINTS.wood, 0.8, null),
      );
    }
  }
}

/** Open shelves with boxes and tins. */
export function shelves(stage: Stage, spot: Spot, widthM: number, heightM: number): void {
  const half = widthM / 2;
  const frame = finish('steel', pick(stage, [TINTS.green, TINTS.coolGrey, TINTS.teal]), 0.9, 0.0015);
  for (const r of [-half, half - 0.05]) {
    stage.box(spot, { right: [r, r + 0.05], height: [0, heightM], back: [0, 0.05] }, frame);
  }
  for (let shelf = 0.12; shelf < heightM; shelf += 0.52) {
    stage.box(
      spot,
      { right: [-half, half], height: [shelf, shelf + 0.03], back: [0, 0.45] },
      finish('planks', TINTS.darkWood, 0.85, 0.0015),
    );
    for (let r = -half + 0.07; r < half - 0.25;) {
      const w = stage.between(0.22, 0.5);
      if (r + w > half - 0.06) break;
      const h = stage.between(0.12, 0.4);
      if (stage.random() < 0.7) {
        const look =
          stage.random() < 0.6
            ? finish('cardboard', TINTS.card, stage.between(0.75, 1.15), null)
            : finish('steel', pick(stage, PAINTS), stage.between(0.7, 1.25), 0.0012);
        stage.box(
          spot,
          { right: [r, r + w], height: [shelf + 0.03, shelf + 0.03 + h], back: [0.06, 0.36] },
          look,
        );
      }
      r += w + stage.between(0.02, 0.12);
    }
  }
}

/** Cabinet of parts drawers. */
export function cabinet(stage: Stage, spot: Spot, heightM: number): void {
  const shade = pick(stage, [TINTS.warmGrey, TINTS.coolGrey, TINTS.cream]);
  stage.box(
    spot,
    { right: [-0.45, 0.45], height: [0, heightM], back: [0.02, 0.4] },
    finish('steel', shade, 0.8, 0.0015),
  );
  stage.box(
    spot,
    { right: [-0.42, 0.42], height: [heightM - 0.86, heightM - 0.03], back: [0, 0.03] },
    finish('drawers', shade, 1, null),
  );
}

/** Tool board on two legs. */
export function toolStand(stage: Stage, spot: Spot): void {
  const steel = finish('steel', TINTS.coolGrey, 0.7, 0.001);
  for (const r of [-0.42, 0.38])
    stage.box(spot, { right: [r, r + 0.04], height: [0, 1.9], back: [0.03, 0.07] }, steel);
  stage.box(
    spot,
    { right: [-0.5, 0.5], height: [0.85, 1.85], back: [0, 0.03] },
    finish('toolBoard', TINTS.ochre, 0.95, null),
  );
}

/** A post from floor to ceiling. */
export function post(stage: Stage, spot: Spot, widthM: number, heightM: number, look: Finish): void {
  stage.box(spot, { right: [-widthM / 2, widthM / 2], height: [0, heightM], back: [0, widthM] }, look);
}

/** Boards that stand on edge, one behind the other. */
export function boards(stage: Stage, spot: Spot, heightM: number): void {
  for (let i = 0; i < 3; i++) {
    const w = stage.between(0.22, 0.42);
    const r = stage.between(-0.2, 0.1);
    const look =
      stage.random() < 0.6
        ? finish('plywood', TINTS.wood, 1, 0.0011)
        : finish('planks', TINTS.darkWood, 0.9, 0.0011);
    stage.box(
      spot,
      { right: [r, r + w], height: [0, heightM * stage.between(0.75, 1)], back: [0.08 * i, 0.08 * i + 0.02] },
      look,
    );
  }
}

/** A bicycle on its stand, flat like a cut-out. */
export function bicycleAt(stage: Stage, spot: Spot, floorY: number): void {
  const toLeft = stage.random() < 0.5;
  const right: readonly [number, number, number] =
    spot.back === 'z' ? [1, 0, 0] : [0, 0, spot.back === 'x' ? -1 : 1];
  const reach = toLeft ? -0.95 : 0.95;
  const place: Placement = {
    origin: [spot.x - right[0] * reach, floorY - 0.93, spot.z - right[2] * reach],
    along: [2 * right[0] * reach, 0, 2 * right[2] * reach],
    down: [0, 0.95, 0],
  };
  const dark = stage.random() < 0.5;
  stage.cutout(
    place,
    dark ? 'darkBicycle' : 'lightBicycle',
    1,
    pick(stage, [TINTS.red, TINTS.teal, TINTS.grey, TINTS.ochre]),
  );
  stage.footprints.push({ x0: spot.x - 0.7, x1: spot.x + 0.7, z0: spot.z - 0.03, z1: spot.z + 0.03 });
}
