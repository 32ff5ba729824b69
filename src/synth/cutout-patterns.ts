/** Patterns with opacity: a bicycle seen from the side, and the parts of a walking figure seen from behind. */
import { cloth } from './object-patterns.js';
import {
  addFractalNoise,
  paintBox,
  paintEllipse,
  paintLine,
  paintRing,
  plain,
  type Pattern,
} from './pattern.js';

/** Luminance already multiplied by opacity, and the opacity. */
export interface CutoutPattern {
  readonly luma: Pattern;
  readonly opacity: Pattern;
}

/** Draws into luminance and opacity at once. */
function both(luma: Pattern, opacity: Pattern) {
  return {
    line(x0: number, y0: number, x1: number, y1: number, thickness: number, value: number, cover = 1): void {
      paintLine(luma, x0, y0, x1, y1, thickness, value * cover);
      paintLine(opacity, x0, y0, x1, y1, thickness, cover);
    },
    ring(x: number, y: number, radius: number, thickness: number, value: number): void {
      paintRing(luma, x, y, radius, thickness, value);
      paintRing(opacity, x, y, radius, thickness, 1);
    },
  };
}

/** A bicycle, 1024 x 512 texels for 1.9 m x 0.95 m. */
export function bicycle(random: () => number, frameValue: number): CutoutPattern {
  const luma = plain(1024, 512, 0);
  const opacity = plain(1024, 512, 0);
  const draw = both(luma, opacity);
  const [rearX, frontX, axleY, radius] = [220, 780, 322, 168];
  for (const x of [rearX, frontX]) {
    const turn = random();
    for (let k = 0; k < 18; k++) {
      const angle = ((k + turn) / 18) * 2 * Math.PI;
      draw.line(x, axleY, x + radius * Math.cos(angle), axleY + radius * Math.sin(angle), 3, 0.75, 0.6);
    }
    draw.ring(x, axleY, radius - 10, 7, 0.8);
    draw.ring(x, axleY, radius, 14, 0.08);
    draw.ring(x, axleY, 8, 16, 0.3);
  }
  const [crankX, crankY, seatX, seatY, headX, headY] = [446, 338, 372, 128, 690, 116];
  for (const [x0, y0, x1, y1] of [
    [rearX, axleY, crankX, crankY],
    [rearX, axleY, seatX + 12, seatY + 34],
    [crankX, crankY, seatX, seatY],
    [crankX, crankY, headX + 12, headY + 48],
    [seatX + 10, seatY + 28, headX, headY + 12],
    [headX - 8, headY - 14, headX + 16, headY + 70],
    [headX + 16, headY + 70, frontX, axleY],
  ] as const) {
    draw.line(x0, y0, x1, y1, 17, frameValue);
    draw.line(x0, y0 - 3, x1, y1 - 3, 5, Math.min(1, frameValue + 0.2));
  }
  draw.line(seatX, seatY, seatX - 14, seatY - 44, 10, 0.7);
  draw.line(seatX - 66, seatY - 46, seatX + 44, seatY - 50, 20, 0.1);
  draw.line(headX - 8, headY - 14, headX - 16, headY - 46, 11, 0.7);
  draw.line(headX - 18, headY - 46, headX + 44, headY - 52, 12, 0.65);
  draw.line(headX + 44, headY - 52, headX + 66, headY - 24, 15, 0.1);
  draw.ring(crankX, crankY, 36, 8, 0.6);
  draw.line(crankX - 60, crankY + 46, crankX + 60, crankY - 46, 10, 0.6);
  draw.line(crankX - 80, crankY + 48, crankX - 42, crankY + 48, 12, 0.15);
  draw.line(crankX + 42, crankY - 48, crankX + 80, crankY - 48, 12, 0.15);
  draw.line(rearX, axleY - 12, crankX, crankY - 36, 4, 0.25);
  draw.line(rearX, axleY + 12, crankX, crankY + 36, 4, 0.25);
  return { luma, opacity };
}

/** Multiplies a cloth by a shape. */
function clad(random: () => number, value: number, opacity: Pattern): CutoutPattern {
  const luma = cloth(random);
  addFractalNoise(luma, 4, 4, 4, 0.06, 0.8, random);
  const { values } = luma;
  for (let i = 0; i < values.length; i++) {
    values[i] = Math.min(1, Math.max(0.03, values[i] + value)) * opacity.values[i];
  }
  return { luma, opacity };
}

/** Trunk, shoulders and a hooded head from behind, 512 x 512 texels for 0.8 m x 1.0 m. */
export function figureTrunk(random: () => number): CutoutPattern {
  const opacity = plain(512, 512, 0);
  paintEllipse(opacity, 256, 76, 58, 66, 1);
  paintEllipse(opacity, 256, 190, 158, 78, 1);
  paintBox(opacity, 100, 190, 412, 330, 1);
  paintBox(opacity, 122, 320, 390, 500, 1);
  for (const x of [100, 412]) paintLine(opacity, x, 192, x < 256 ? x - 12 : x + 12, 440, 74, 1);
  const cut = clad(random, 0, opacity);
  paintLine(cut.luma, 176, 150, 190, 470, 22, 0.82);
  paintLine(cut.luma, 336, 150, 322, 470, 22, 0.82);
  paintLine(cut.luma, 126, 452, 386, 452, 20, 0.1);
  for (let i = 0; i < 3; i++) paintRing(cut.luma, 256, 100, 14 + 14 * i, 5, 0.16);
  return cut;
}

/** One leg, 512 x 512 texels for 0.3 m x 0.95 m; it hangs from the top. */
export function figureLeg(random: () => number): CutoutPattern {
  const opacity = plain(512, 512, 0);
  paintLine(opacity, 256, 40, 256, 450, 250, 1);
  paintBox(opacity, 110, 470, 440, 508, 1);
  return clad(random, -0.08, opacity);
}
