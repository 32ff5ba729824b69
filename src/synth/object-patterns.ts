/** Patterns of things: crates, planks, cardboard, drawers, tool boards, windows, painted steel, cloth; 0..1 luminance. */
import {
  addDabs,
  addFractalNoise,
  addNoise,
  limit,
  paintBox,
  paintEllipse,
  paintLine,
  paintRing,
  plain,
  type Pattern,
} from './pattern.js';

/** Side of a slatted wooden crate. 512 x 512, one side of a crate. */
export function crate(random: () => number): Pattern {
  const p = plain(512, 512, 0.1);
  for (let j = 0; j < 4; j++) paintBox(p, 6, j * 128 + 8, 506, j * 128 + 112, 0.5 + 0.18 * (random() - 0.5));
  addFractalNoise(p, 2, 32, 4, 0.07, 0.85, random);
  for (const x of [10, 438]) {
    paintBox(p, x, 4, x + 64, 508, 0.62);
    for (let j = 0; j < 4; j++) {
      for (const y of [34, 90]) paintEllipse(p, x + 32, j * 128 + y, 5, 5, 0.18);
    }
  }
  addFractalNoise(p, 16, 16, 5, 0.05, 0.8, random);
  addDabs(p, 70, 3.5, 9, 0.2, 0.86, random);
  for (let i = 0; i < 16; i++) knot(p, random);
  return limit(p, 0.04, 0.95);
}

function knot(p: Pattern, random: () => number): void {
  const x = p.width * random();
  const y = p.height * random();
  const r = 3 + 5 * random();
  paintEllipse(p, x, y, 1.8 * r, r, 0.4);
  paintEllipse(p, x, y, r, 0.6 * r, 0.24);
}

/** Wooden planks, grain along the width, four planks. 512 x 512. */
export function planks(random: () => number): Pattern {
  const p = plain(512, 512, 0.5);
  for (let j = 0; j < 4; j++) paintBox(p, 0, j * 128, 512, (j + 1) * 128, 0.46 + 0.2 * (random() - 0.5));
  addFractalNoise(p, 4, 32, 5, 0.06, 0.8, random);
  addFractalNoise(p, 32, 64, 3, 0.05, 0.8, random);
  addDabs(p, 70, 3, 8, 0.18, 0.85, random);
  for (let i = 0; i < 20; i++) knot(p, random);
  for (let j = 0; j < 4; j++) paintBox(p, 0, j * 128 - 3, 512, j * 128 + 3, 0.12);
  return limit(p, 0.04, 0.95);
}

/** Cardboard box with tape, dents and stains. 512 x 512. */
export function cardboard(random: () => number): Pattern {
  const p = plain(512, 512, 0.52);
  addFractalNoise(p, 4, 64, 3, 0.04, 0.8, random);
  addFractalNoise(p, 8, 8, 6, 0.05, 0.8, random);
  paintBox(p, 0, 226, 512, 286, 0.7);
  for (let i = 0; i < 16; i++) {
    const r = 5 + 20 * random();
    paintEllipse(p, 512 * random(), 512 * random(), r, r * random() + 3, 0.36 + 0.26 * random());
  }
  addDabs(p, 60, 3.5, 10, 0.24, 0.84, random);
  for (let i = 0; i < 8; i++) {
    const x = 512 * random();
    const y = 512 * random();
    paintLine(p, x, y, x + 90 * (random() - 0.5), y + 90 * (random() - 0.5), 2.5, 0.3);
  }
  for (const [x0, y0, x1, y1] of FRAME) paintBox(p, x0, y0, x1, y1, 0.3);
  return limit(p, 0.05, 0.95);
}

/** The four borders of a 512 x 512 panel. */
const FRAME = [
  [0, 0, 512, 7],
  [0, 505, 512, 512],
  [0, 0, 7, 512],
  [505, 0, 512, 512],
] as const;

/** Wall of small parts drawers, each with a knob and its own shade. 512 x 512, 8 x 8 drawers. */
export function drawers(random: () => number): Pattern {
  const p = plain(512, 512, 0.12);
  for (let j = 0; j < 8; j++) {
    for (let i = 0; i < 8; i++) {
      const x = i * 64;
      const y = j * 64;
      const value = 0.3 + 0.5 * random();
      paintBox(p, x + 4, y + 4, x + 60, y + 60, value);
      paintBox(p, x + 8, y + 44, x + 56, y + 57, value * 0.7);
      paintBox(p, x + 14, y + 12, x + 50, y + 27, random() < 0.7 ? 0.86 : value);
      paintEllipse(p, x + 32, y + 38, 5, 5, value > 0.5 ? 0.15 : 0.75);
    }
  }
  addFractalNoise(p, 16, 16, 5, 0.04, 0.8, random);
  return limit(p, 0.04, 0.95);
}

/** Board with hanging tools: bars, rings and handles on a perforated sheet. 512 x 512. */
export function toolBoard(random: () => number): Pattern {
  const p = plain(512, 512, 0.46);
  for (let j = 0; j < 16; j++)
    for (let i = 0; i < 16; i++) paintEllipse(p, 16 + 32 * i, 16 + 32 * j, 3.5, 3.5, 0.16);
  for (let j = 0; j < 3; j++) {
    for (let i = 0; i < 8; i++) {
      const x = 32 + 64 * i;
      const y = 26 + 166 * j;
      const length = 60 + 70 * random();
      const value = random() < 0.6 ? 0.12 : 0.85;
      const kind = random();
      if (kind < 0.3) paintRing(p, x, y + 30, 18, 9, value);
      else paintLine(p, x, y, x + 6 * (random() - 0.5), y + length, 6 + 6 * random(), value);
      if (kind > 0.55) paintRing(p, x, y + length, 9, 7, value);
      if (kind > 0.3 && kind < 0.5) paintBox(p, x - 16, y, x + 16, y + 16, value);
    }
  }
  addFractalNoise(p, 16, 16, 5, 0.03, 0.8, random);
  for (const [x0, y0, x1, y1] of FRAME) paintBox(p, x0, y0, x1, y1, 0.22);
  return limit(p, 0.04, 0.95);
}

/** Old steel window, panes with grime, bars between. 512 x 512, 4 x 5 panes. */
export function windowPanes(random: () => number): Pattern {
  const p = plain(512, 512, 0.18);
  for (let j = 0; j < 5; j++) {
    for (let i = 0; i < 4; i++) {
      const broken = random() < 0.08;
      paintBox(
        p,
        i * 128 + 7,
        j * 102.4 + 7,
        i * 128 + 121,
        j * 102.4 + 96,
        broken ? 0.3 : 0.8 + 0.12 * random(),
      );
    }
  }
  addFractalNoise(p, 8, 8, 5, 0.05, 0.8, random);
  for (const [x0, y0, x1, y1] of FRAME) paintBox(p, x0, y0, x1, y1, 0.15);
  return limit(p, 0.05, 1);
}

/** Painted steel, worn to the metal at scratches and rivets. 512 x 512. */
export function steel(random: () => number): Pattern {
  const p = plain(512, 512, 0.42);
  addFractalNoise(p, 4, 4, 6, 0.06, 0.8, random);
  addDabs(p, 70, 3.5, 11, 0.17, 0.78, random);
  for (let i = 0; i < 40; i++) {
    const r = 2 + 4 * random() ** 3;
    paintEllipse(p, 512 * random(), 512 * random(), r, r * (0.5 + random()), random() < 0.5 ? 0.7 : 0.2);
  }
  for (let i = 0; i < 40; i++) {
    const x = 512 * random();
    const y = 512 * random();
    paintLine(
      p,
      x,
      y,
      x + 60 * (random() - 0.5),
      y + 60 * (random() - 0.5),
      2.2,
      random() < 0.6 ? 0.66 : 0.22,
    );
  }
  for (let i = 0; i < 4; i++) for (const y of [20, 276]) paintEllipse(p, 64 + 128 * i, y, 7, 7, 0.24);
  return limit(p, 0.05, 0.95);
}

/** Checked cloth with patches, for overalls. 512 x 512. */
export function cloth(random: () => number): Pattern {
  const p = plain(512, 512, 0.4);
  for (let i = 0; i < 16; i++) {
    if (i % 2 === 0) paintBox(p, i * 32, 0, i * 32 + 18, 512, 0.52);
  }
  const { values } = p;
  for (let y = 0; y < 512; y++) {
    if (y % 64 < 26) for (let x = 0; x < 512; x++) values[y * 512 + x] *= 0.68;
  }
  for (let i = 0; i < 30; i++) {
    const x = 512 * random();
    const y = 512 * random();
    paintBox(p, x, y, x + 14 + 26 * random(), y + 14 + 26 * random(), 0.12 + 0.7 * random());
  }
  addFractalNoise(p, 8, 8, 6, 0.05, 0.85, random);
  addNoise(p, 4, 4, 0.05, random);
  return limit(p, 0.04, 0.95);
}
