/** Milliseconds of each part of tracking for one frame: the SIMD kernel against the scalar image engine, one thread. */
import { median } from '../../src/numerics/index.js';
import { scaleFor } from '../../src/tracking/options.js';
import {
  cornerStrengthOfGradient,
  openPair,
  sharePictures,
  type PicturePair,
} from '../../src/vision/index.js';

const SIZE = { widthPx: 960, heightPx: 540 };
const RUNS = 15;
const POINTS = 280;
const BUCKETS = 40;

/** Prints a line for each part. @throws Error where the engine cannot run the kernel */
export async function printPairTable(write: (text: string) => void): Promise<void> {
  const { widthPx, heightPx } = SIZE;
  const scale = scaleFor(widthPx);
  const { blurSigmaPx, windowPx, levels, blockPx, template } = scale;
  const use = { ...SIZE, blurSigmaPx, windowPx, levels, blockPx, template, threads: 1 };
  const share = await sharePictures(use);
  if (!share.kernel) throw new Error('There is no kernel to measure: this engine cannot run it.');
  const kernel = (await openPair(share, 0)).pair;
  const scalar = (await openPair(await sharePictures(use, true), 0)).pair;
  const pictures = [0, 1].map(drifted);
  for (const pair of [kernel, scalar]) for (const picture of pictures) pair.push(picture);
  const points = {
    xPx: Float32Array.from({ length: POINTS }, (_, i) => 20 + ((i * 37.71) % (widthPx - 40))),
    yPx: Float32Array.from({ length: POINTS }, (_, i) => 20 + ((i * 61.37) % (heightPx - 40))),
  };
  const cut = new Map(
    [kernel, scalar].map((pair) => {
      const cutter = pair.templates(template);
      return [
        pair,
        Array.from(points.xPx, (x, i) => ({ x, y: points.yPx[i], template: cutter.cut(x, points.yPx[i]) })),
      ];
    }),
  );
  const floor = cornerStrengthOfGradient(0.3, blockPx);
  const area = { xPx: 60, yPx: 60, widthPx: 62, heightPx: 62 };
  const parts: readonly (readonly [string, (pair: PicturePair) => void])[] = [
    [`there and back, ${POINTS} points`, (pair) => void pair.backward(pair.forward(points), { levels: 0 })],
    [
      `${POINTS} templates found from half a pixel off`,
      (pair) => {
        for (const { x, y, template } of cut.get(pair) ?? [])
          template?.find({ xPx: x + 0.5, yPx: y - 0.3, xx: 1, xy: 0, yx: 0, yy: 1 });
      },
    ],
    [
      `corners of ${BUCKETS} buckets`,
      (pair) => {
        for (let i = 0; i < BUCKETS; i++) pair.corners(blockPx, area, floor);
      },
    ],
    ['take, blur and, in the kernel, halve a picture', (pair) => pair.push(pictures[0])],
  ];
  write(`One frame of ${widthPx} x ${heightPx}, CPU ms in one thread, medians of ${RUNS}\n\n`);
  write('| part | kernel | scalar engine | ratio |\n|---|---|---|---|\n');
  for (const [name, work] of parts) {
    for (const pair of [kernel, scalar]) work(pair);
    // In turns, so that what else the machine does meets both.
    const pairs = Array.from({ length: RUNS }, () => [cpuMs(kernel, work), cpuMs(scalar, work)]);
    const [own, other] = [0, 1].map((k) => median(Float64Array.from(pairs, (pair) => pair[k])));
    write(`| ${name} | ${own.toFixed(2)} | ${other.toFixed(2)} | ${(other / own).toFixed(1)} |\n`);
  }
  write('\n');
}

/** Soft waves of a few sizes that drift by 2 px. */
function drifted(k: number): Uint8Array {
  return Uint8Array.from({ length: SIZE.widthPx * SIZE.heightPx }, (_, i) => {
    const x = (i % SIZE.widthPx) + 2 * k;
    const y = Math.floor(i / SIZE.widthPx);
    return (
      128 + 40 * Math.sin(x / 3.1 + y / 7.7) + 30 * Math.sin(y / 2.7 - x / 11.3) + 20 * Math.sin(x * y * 1e-3)
    );
  });
}

function cpuMs(pair: PicturePair, work: (pair: PicturePair) => void): number {
  const from = process.cpuUsage();
  work(pair);
  const { user, system } = process.cpuUsage(from);
  return (user + system) / 1000;
}
