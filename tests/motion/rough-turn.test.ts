/** The turn between two frames from followed points alone, against turns that are known. */
import { describe, expect, it } from 'vitest';
import { roughTurn } from '../../src/motion/index.js';
import { gaussianRandom, seededRandom } from '../../src/numerics/index.js';
import { pixelOfNormalised, rotationFromAngles, type Camera } from '../../src/optics/index.js';
import { expectWithin } from '../support/expect-within.js';

const CAMERA: Camera = {
  ...{ widthPx: 960, heightPx: 540, focalPx: 900, centreXPx: 479.5, centreYPx: 269.5 },
  distortion: { k1: -0.1, k2: 0.02, p1: 0, p2: 0, k3: 0 },
};
const MILLIDEGREE = Math.PI / 180_000;

interface Columns {
  readonly xPx: Float64Array;
  readonly yPx: Float64Array;
}

/** How the points are made worse. */
interface Spoiling {
  readonly count?: number;
  readonly noisePx?: number;
  /** Moves a point after the turn, px. */
  readonly spoil?: (k: number) => readonly [number, number];
}

/** Far points before and after a turn. */
function turned(
  [panRad, tiltRad, rollRad]: readonly [number, number, number],
  { count = 280, noisePx = 0, spoil = () => [0, 0] }: Spoiling = {},
): { before: Columns; after: Columns } {
  const random = seededRandom(11);
  const noise = gaussianRandom(random);
  const r = rotationFromAngles(panRad, tiltRad, rollRad);
  const columns = (): Columns => ({ xPx: new Float64Array(count), yPx: new Float64Array(count) });
  const [before, after] = [columns(), columns()];
  for (let k = 0; k < count; k++) {
    const x = 0.9 * (random() - 0.5);
    const y = 0.5 * (random() - 0.5);
    const z = r[6] * x + r[7] * y + r[8];
    const from = pixelOfNormalised(CAMERA, x, y);
    const to = pixelOfNormalised(CAMERA, (r[0] * x + r[1] * y + r[2]) / z, (r[3] * x + r[4] * y + r[5]) / z);
    const [dx, dy] = spoil(k);
    before.xPx[k] = from.xPx;
    before.yPx[k] = from.yPx;
    after.xPx[k] = to.xPx + dx + noisePx * noise();
    after.yPx[k] = to.yPx + dy + noisePx * noise();
  }
  return { before, after };
}

function expectTurn(
  pair: ReturnType<typeof turned>,
  expected: readonly [number, number, number],
  tolerance: { readonly abs: number; readonly why: string },
): void {
  const turn = roughTurn(CAMERA, pair.before, pair.after);
  expectWithin(turn?.panRad ?? NaN, expected[0], tolerance, 'pan');
  expectWithin(turn?.tiltRad ?? NaN, expected[1], tolerance, 'tilt');
  expectWithin(turn?.rollRad ?? NaN, expected[2], tolerance, 'roll');
}

describe('the rough turn between two frames', () => {
  it.each([
    ['pan to the right', [0.01, 0, 0]],
    ['tilt up', [0, 0.006, 0]],
    ['roll clockwise', [0, 0, 0.02]],
    ['all three, other ways round', [-0.02, -0.01, -0.015]],
  ] as const)('is the %s that was made', (_, angles) => {
    expectTurn(turned(angles), angles, { abs: 1e-6, why: 'no noise; the lens is undistorted to 1e-8' });
  });

  it('pans to the right when the picture moves to the left', () => {
    const pair = turned([0, 0, 0]);
    const after = { ...pair.after, xPx: pair.before.xPx.map((x) => x - 9) };
    expect(roughTurn(CAMERA, pair.before, after)?.panRad).toBeGreaterThan(0.009);
  });

  it('has the noise of its points, no more', () => {
    const angles = [0.002, -0.001, 0.003] as const;
    // 0.1 px over 900 px by the root of 280 is 0.4 millidegrees; roll, seen on short arms, four times that.
    expectTurn(turned(angles, { noisePx: 0.1 }), angles, { abs: 5 * MILLIDEGREE, why: 'three deviations' });
  });

  it('does not follow a third of the points that go their own way', () => {
    const angles = [0.004, 0.002, -0.003] as const;
    const walker = (k: number): readonly [number, number] => (k % 3 === 0 ? [14, -3] : [0, 0]);
    expectTurn(turned(angles, { noisePx: 0.1, spoil: walker }), angles, {
      abs: 8 * MILLIDEGREE,
      why: 'the noise of the others; taken along it would be 300 millidegrees',
    });
  });

  it('is not told by fewer than six points', () => {
    const few = turned([0.01, 0, 0], { count: 5 });
    expect(roughTurn(CAMERA, few.before, few.after)).toBeNull();
  });

  it('refuses columns of two lengths', () => {
    const { before } = turned([0, 0, 0]);
    const { after } = turned([0, 0, 0], { count: 12 });
    expect(() => roughTurn(CAMERA, before, after)).toThrow(RangeError);
  });
});
