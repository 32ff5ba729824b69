/** Milliseconds to draw one plane anew: our two passes of Lanczos against the one pass of the image engine. */
import { createRequire } from 'node:module';
import { median } from '../../src/numerics/index.js';
import { GRID_STEP_PX, gridNodes, PlaneResampler } from '../../src/vision/index.js';
import { printPairTable } from './speed-pairs.js';

const SIZE = { widthPx: 1920, heightPx: 1080 };
const RUNS = 9;
const TURN_RAD = 0.01;
const ZOOM = 1.03;

/** What the bench uses of the image engine, which the program itself does not resample with. */
interface Mat {
  readonly data: Uint8Array;
  readonly data16U: Uint16Array;
  readonly data32F: Float32Array;
}
interface Engine {
  readonly CV_8UC1: number;
  readonly CV_16UC1: number;
  readonly CV_32FC1: number;
  readonly INTER_LANCZOS4: number;
  readonly BORDER_REPLICATE: number;
  readonly Mat: { new (): Mat; new (rows: number, cols: number, type: number): Mat };
  readonly Scalar: new () => object;
  onRuntimeInitialized?: () => void;
  remap(from: Mat, to: Mat, x: Mat, y: Mat, kernel: number, border: number, value: object): void;
}

/** Prints a line for 8 and for 16 bits, then the parts of tracking. */
export async function printKernelTable(write: (text: string) => void): Promise<void> {
  const { engine } = await startEngine();
  const { widthPx, heightPx } = SIZE;
  write(`One plane of ${widthPx} x ${heightPx}, turned by ${TURN_RAD} rad, ms, medians of ${RUNS}\n\n`);
  write('| samples | own, 1/1024 px | image engine, 1/32 px | ratio |\n|---|---|---|---|\n');
  for (const bits of [8, 16]) {
    // In turns, so that what else the machine does meets both.
    const own = ownWork(bits);
    const other = engineWork(engine, bits);
    const pairs = Array.from({ length: RUNS }, () => [timed(own), timed(other)]);
    const ms = [0, 1].map((k) => median(Float64Array.from(pairs, (pair) => pair[k])));
    const ratio = median(Float64Array.from(pairs, (pair) => pair[1] / pair[0]));
    write(`| ${bits} bits | ${ms[0].toFixed(1)} | ${ms[1].toFixed(1)} | ${ratio.toFixed(2)} |\n`);
  }
  write('\n');
  await printPairTable(write);
}

function place(x: number, y: number): readonly [number, number] {
  const c = Math.cos(TURN_RAD) / ZOOM;
  const s = Math.sin(TURN_RAD) / ZOOM;
  const [u, v] = [x - SIZE.widthPx / 2, y - SIZE.heightPx / 2];
  return [SIZE.widthPx / 2 + c * u - s * v, SIZE.heightPx / 2 + s * u + c * v];
}

function sourceOf(bits: number): Uint8Array | Uint16Array {
  const plane = new (bits === 8 ? Uint8Array : Uint16Array)(SIZE.widthPx * SIZE.heightPx);
  return plane.map((_, i) => Math.imul(i + 1, 2654435761) >>> (32 - bits));
}

function ownWork(bits: number): () => void {
  const columns = gridNodes(SIZE.widthPx);
  const count = columns * gridNodes(SIZE.heightPx);
  const nodes = Array.from({ length: count }, (_, i) =>
    place(GRID_STEP_PX * (i % columns), GRID_STEP_PX * Math.floor(i / columns)),
  );
  const places = { xPx: Float64Array.from(nodes, ([x]) => x), yPx: Float64Array.from(nodes, ([, y]) => y) };
  const source = sourceOf(bits);
  const target = source.slice();
  const resampler = new PlaneResampler(SIZE, SIZE);
  return () => resampler.resample(source, places, target, 2 ** bits - 1);
}

function engineWork(cv: Engine, bits: number): () => void {
  const { widthPx, heightPx } = SIZE;
  const x = new cv.Mat(heightPx, widthPx, cv.CV_32FC1);
  const y = new cv.Mat(heightPx, widthPx, cv.CV_32FC1);
  const from = new cv.Mat(heightPx, widthPx, bits === 8 ? cv.CV_8UC1 : cv.CV_16UC1);
  const to = new cv.Mat();
  (bits === 8 ? from.data : from.data16U).set(sourceOf(bits));
  for (let i = 0; i < widthPx * heightPx; i++)
    [x.data32F[i], y.data32F[i]] = place(i % widthPx, Math.floor(i / widthPx));
  const nothing = new cv.Scalar();
  return () => cv.remap(from, to, x, y, cv.INTER_LANCZOS4, cv.BORDER_REPLICATE, nothing);
}

function timed(work: () => void): number {
  const from = performance.now();
  work();
  return performance.now() - from;
}

/** The engine travels in a box: a promise of the module itself never settles. */
function startEngine(): Promise<{ engine: Engine }> {
  const engine = createRequire(import.meta.url)('@techstark/opencv-js') as Engine;
  return new Promise((resolve) => {
    if (typeof engine.Mat === 'function') resolve({ engine });
    else engine.onRuntimeInitialized = () => resolve({ engine });
  });
}
