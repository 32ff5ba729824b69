/** Patterns of floors and walls: concrete, plaster, glazed tiles, floor tiles, plywood, brick, all invented, 0..1 luminance. */
import {
  addDabs,
  addFractalNoise,
  addNoise,
  limit,
  paintBox,
  paintEllipse,
  paintLine,
  plain,
  type Pattern,
} from './pattern.js';

/** Polished concrete: clouds, aggregate, scuffs and a few hairline cracks. 1024 x 1024. */
export function concrete(random: () => number): Pattern {
  const p = plain(1024, 1024, 0.5);
  addFractalNoise(p, 4, 4, 5, 0.07, 0.8, random);
  addFractalNoise(p, 128, 128, 2, 0.05, 0.9, random);
  for (let i = 0; i < 900; i++) {
    const r = 1.5 + 4 * random() ** 2;
    paintEllipse(p, 1024 * random(), 1024 * random(), r, r * (0.6 + 0.6 * random()), 0.3 + 0.4 * random());
  }
  for (let i = 0; i < 18; i++) scuff(p, random, 0.28 + 0.1 * random());
  addDabs(p, 150, 4, 13, 0.17, 0.82, random);
  for (let i = 0; i < 5; i++) crack(p, random);
  return limit(p, 0.06, 0.95);
}

function scuff(p: Pattern, random: () => number, value: number): void {
  const x = p.width * random();
  const y = p.height * random();
  const angle = Math.PI * 2 * random();
  const length = 40 + 130 * random();
  paintLine(p, x, y, x + length * Math.cos(angle), y + length * Math.sin(angle), 2 + 3 * random(), value);
}

function crack(p: Pattern, random: () => number): void {
  let x = p.width * random();
  let y = p.height * random();
  let angle = Math.PI * 2 * random();
  for (let step = 0; step < 24; step++) {
    const nextX = x + 16 * Math.cos(angle);
    const nextY = y + 16 * Math.sin(angle);
    paintLine(p, x, y, nextX, nextY, 2.2, 0.2);
    x = nextX;
    y = nextY;
    angle += 0.9 * (random() - 0.5);
  }
}

/** Old limewashed plaster with patches and stains. 1024 x 1024. */
export function plaster(random: () => number): Pattern {
  const p = plain(1024, 1024, 0.68);
  addFractalNoise(p, 5, 5, 6, 0.07, 0.75, random);
  for (let i = 0; i < 40; i++) {
    const r = 12 + 50 * random();
    paintEllipse(p, 1024 * random(), 1024 * random(), r, r * (0.4 + random()), 0.56 + 0.2 * random());
  }
  addFractalNoise(p, 64, 64, 3, 0.05, 0.8, random);
  addDabs(p, 300, 3.5, 13, 0.26, 0.95, random);
  for (let i = 0; i < 4; i++) crack(p, random);
  return limit(p, 0.1, 0.97);
}

/** Rectangular tiles with dark joints; each tile has its own shade, some are chipped or replaced. 1024 x 1024. */
export function tiles(
  random: () => number,
  across: number,
  down: number,
  shade: {
    readonly tile: number;
    readonly spread: number;
    readonly joint: number;
    readonly oddShare: number;
  },
): Pattern {
  const p = plain(1024, 1024, shade.joint);
  const w = 1024 / across;
  const h = 1024 / down;
  const joint = Math.max(3, 0.045 * Math.min(w, h));
  for (let j = 0; j < down; j++) {
    for (let i = 0; i < across; i++) {
      const odd = random() < shade.oddShare ? (random() < 0.5 ? -0.24 : 0.12) : 0;
      const value = shade.tile + shade.spread * (2 * random() - 1) + odd;
      paintBox(
        p,
        i * w + joint / 2,
        j * h + joint / 2,
        (i + 1) * w - joint / 2,
        (j + 1) * h - joint / 2,
        value,
      );
      // A glint along the upper edge, as glaze gives it.
      paintBox(p, i * w + joint, j * h + joint, (i + 1) * w - joint, j * h + joint + h * 0.1, value + 0.06);
      if (random() < 0.16) {
        const r = 3 + 0.09 * w * random();
        paintEllipse(
          p,
          (i + random()) * w,
          (j + (random() < 0.5 ? 0.06 : 0.94)) * h,
          r,
          r * 0.7,
          shade.joint,
        );
      }
    }
  }
  addDabs(p, 130, 4, 15, shade.joint * 0.8, Math.min(0.97, shade.tile + 0.22), random);
  addFractalNoise(p, 8, 8, 7, 0.035, 0.85, random);
  return limit(p, 0.05, 0.98);
}

/** Whitewashed brick in running bond. 1024 x 1024 for 16 courses. */
export function brick(random: () => number): Pattern {
  const p = plain(1024, 1024, 0.34);
  const rows = 16;
  const h = 1024 / rows;
  const w = 1024 / 5;
  for (let j = 0; j < rows; j++) {
    for (let i = 0; i < 5; i++) {
      const x = (i + (j % 2) / 2) * w;
      const value = 0.55 + 0.13 * (2 * random() - 1);
      paintBox(p, x + 4, j * h + 4, x + w - 4, (j + 1) * h - 4, value);
    }
  }
  addDabs(p, 160, 4, 12, 0.22, 0.85, random);
  addFractalNoise(p, 8, 8, 7, 0.06, 0.85, random);
  return limit(p, 0.05, 0.95);
}

/** Plywood sheets: long grain, knots, sheet joints and screw heads. 1024 x 1024, grain along the width. */
export function plywood(random: () => number): Pattern {
  const p = plain(1024, 1024, 0.58);
  addFractalNoise(p, 4, 24, 5, 0.07, 0.8, random);
  addFractalNoise(p, 32, 96, 3, 0.05, 0.85, random);
  addDabs(p, 170, 3.5, 10, 0.24, 0.86, random);
  addNoise(p, 3, 3, 0.05, random);
  for (let i = 0; i < 30; i++) {
    const x = 1024 * random();
    const y = 1024 * random();
    const r = 5 + 12 * random();
    for (let ring = 3; ring >= 0; ring--) {
      paintEllipse(p, x, y, r * (1 + ring * 0.8), r * (0.45 + ring * 0.32), 0.33 + 0.07 * ring);
    }
  }
  for (const y of [0, 512]) paintBox(p, 0, y - 2.5, 1024, y + 2.5, 0.17);
  for (const [x, top] of [
    [120, 0],
    [640, 512],
  ] as const) {
    paintBox(p, x - 2.5, top, x + 2.5, top + 512, 0.17);
    for (let k = 0; k < 4; k++) {
      for (const side of [-16, 16]) paintEllipse(p, x + side, top + 60 + 128 * k, 4, 4, 0.22);
    }
  }
  return limit(p, 0.06, 0.95);
}

/** Ribbed aluminium with scratches; ribs run along the width. 512 x 512. */
export function aluminium(random: () => number): Pattern {
  const p = plain(512, 512, 0.62);
  for (let j = 0; j < 8; j++) {
    paintBox(p, 0, j * 64, 512, j * 64 + 14, 0.4 + 0.06 * random());
    paintBox(p, 0, j * 64 + 24, 512, j * 64 + 34, 0.82);
  }
  addFractalNoise(p, 2, 64, 4, 0.05, 0.8, random);
  addFractalNoise(p, 32, 32, 4, 0.05, 0.8, random);
  for (let i = 0; i < 14; i++) scuff(p, random, 0.3 + 0.5 * random());
  addDabs(p, 90, 4, 14, 0.2, 0.95, random);
  for (let i = 0; i < 6; i++) paintEllipse(p, 43 + 85 * i, 52, 9, 9, 0.15);
  return limit(p, 0.05, 0.97);
}

/** Fine and coarse noise with no shape that repeats: what a measuring wall looks like. 1024 x 1024. */
export function speckle(random: () => number): Pattern {
  const p = plain(1024, 1024, 0.5);
  addFractalNoise(p, 8, 8, 7, 0.11, 0.95, random);
  return limit(p, 0.02, 0.98);
}
