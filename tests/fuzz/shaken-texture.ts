/** Grey frames of a rough wall before a shaking camera, from closed forms: enough detail to follow, no two frames alike. */

/** Size and length of the picture to make. */
export interface ShakenTexture {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly frames: number;
}

/** A fixed number in 0..1 for each point of a grid. */
function grain(x: number, y: number): number {
  let bits = Math.imul(x, 0x27d4eb2d) ^ Math.imul(y, 0x165667b1);
  bits = Math.imul(bits ^ (bits >>> 15), 0x2c1b3c6d);
  return ((bits ^ (bits >>> 12)) >>> 0) / 2 ** 32;
}

/** Grain smoothed between grid points, which are one unit apart. */
function smoothGrain(x: number, y: number): number {
  const left = Math.floor(x);
  const top = Math.floor(y);
  const across = ease(x - left);
  const down = ease(y - top);
  const upper = grain(left, top) * (1 - across) + grain(left + 1, top) * across;
  const lower = grain(left, top + 1) * (1 - across) + grain(left + 1, top + 1) * across;
  return upper * (1 - down) + lower * down;
}

function ease(share: number): number {
  return share * share * (3 - 2 * share);
}

/** All frames one after the other, 8-bit grey, length widthPx heightPx frames. */
export function shakenTexture({ widthPx, heightPx, frames }: ShakenTexture): Uint8Array {
  const grey = new Uint8Array(widthPx * heightPx * frames);
  let at = 0;
  for (let frame = 0; frame < frames; frame++) {
    // A slow drift with two shakes on top, so that every step moves by a part of a pixel and none repeats.
    const shiftXPx = 0.7 * frame + 0.9 * Math.sin(1.9 * frame);
    const shiftYPx = 0.6 * Math.sin(2.3 * frame + 1);
    for (let y = 0; y < heightPx; y++) {
      for (let x = 0; x < widthPx; x++) {
        const fine = smoothGrain((x + shiftXPx) / 3, (y + shiftYPx) / 3);
        const coarse = smoothGrain((x + shiftXPx) / 11 + 40, (y + shiftYPx) / 11 + 40);
        grey[at++] = Math.round(20 + 140 * fine + 75 * coarse);
      }
    }
  }
  return grey;
}
