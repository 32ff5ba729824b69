/** What a measurement sees, made small enough to be sent: a picture of 480 px with the points, and rough angles in degrees by batches. */
import type { RoughAngles, TrackedLook } from '../../measure-request.js';
import { dataUri, thumbnail, type RgbPicture } from '../../report/index.js';
import type { FromWorker, TraceSamples } from './protocol.js';

/** Width of the pictures, px, about. */
const PICTURE_WIDTH_PX = 480;
/** Least time between two batches of angles, ms. */
const BETWEEN_BATCHES_MS = 200;

/** Sends pictures; one that comes while the one before is being coded is left out. */
export function lookTeller(tell: (message: FromWorker) => void): (look: TrackedLook) => void {
  let busy = false;
  const send = async (look: TrackedLook): Promise<void> => {
    const { timeS, widthPx, heightPx, xPx, yPx } = look;
    const small = smallPicture(look);
    const jpeg = await thumbnail(small, small.widthPx);
    const points = Array.from(xPx).flatMap((x, i) => [rounded(x, 1), rounded(yPx[i], 1)]);
    tell({
      kind: 'look',
      look: { timeS: rounded(timeS, 3), widthPx, heightPx, picture: dataUri(jpeg, 'image/jpeg'), points },
    });
  };
  return (look) => {
    if (busy) return;
    busy = true;
    // A picture that cannot be coded is not seen; the measurement does not depend on it.
    void send(look)
      .catch(() => undefined)
      .finally(() => (busy = false));
  };
}

/** The frame by means over squares of whole pixels, cheaper than any better way and good enough for a glance. */
function smallPicture({ widthPx, heightPx, grey }: TrackedLook): RgbPicture {
  const side = Math.max(1, Math.round(widthPx / PICTURE_WIDTH_PX));
  const small = { widthPx: Math.floor(widthPx / side), heightPx: Math.floor(heightPx / side) };
  const rgb = new Uint8Array(3 * small.widthPx * small.heightPx);
  const sums = new Float64Array(small.widthPx);
  for (let row = 0; row < small.heightPx; row++) {
    sums.fill(0);
    for (let line = row * side; line < (row + 1) * side; line++)
      for (let column = 0; column < small.widthPx; column++)
        for (let k = 0; k < side; k++) sums[column] += grey[line * widthPx + column * side + k];
    for (let column = 0; column < small.widthPx; column++) {
      const mean = sums[column] / (side * side);
      const at = 3 * (row * small.widthPx + column);
      rgb[at] = mean;
      rgb[at + 1] = mean;
      rgb[at + 2] = mean;
    }
  }
  return { ...small, rgb };
}

/** Sends angles by batches. */
export class TraceTeller {
  #samples = noSamples();
  #sentMs = performance.now();

  constructor(readonly tell: (message: FromWorker) => void) {}

  /** Adds the angles of a frame. */
  add({ timeS, panRad, tiltRad, rollRad }: RoughAngles): void {
    this.#samples.timeS.push(rounded(timeS, 4));
    this.#samples.panDeg.push(degrees(panRad));
    this.#samples.tiltDeg.push(degrees(tiltRad));
    this.#samples.rollDeg.push(degrees(rollRad));
    if (performance.now() - this.#sentMs >= BETWEEN_BATCHES_MS) this.flush();
  }

  /** Sends what has gathered. */
  flush(): void {
    if (this.#samples.timeS.length > 0) this.tell({ kind: 'trace', samples: this.#samples });
    this.#samples = noSamples();
    this.#sentMs = performance.now();
  }
}

function noSamples(): TraceSamples {
  return { timeS: [], panDeg: [], tiltDeg: [], rollDeg: [] };
}

/** A tenth of a thousandth of a degree is a hundredth of a pixel. */
function degrees(rad: number): number {
  return rounded((rad * 180) / Math.PI, 4);
}

function rounded(value: number, digits: number): number {
  return Number(value.toFixed(digits));
}
