/** A lane plan made up for tests of how it is drawn: every figure is invented. */
import type { LanePlan } from '../../../src/run/index.js';

/** Three lanes of one floor. */
export function madeUpLanePlan(change: (draft: LanePlan) => unknown = () => {}): LanePlan {
  const at = Array.from({ length: 24 }, (_, i) => 0.125 + 0.25 * i);
  const shake = (base: number, hitAtM: number, hit: number): number[] =>
    at.map((m, i) => base * (1 + 0.25 * Math.sin(1.7 * i)) + hit * Math.exp(-(((m - hitAtM) / 0.35) ** 2)));
  const plan: LanePlan = {
    floor: 'old dairy hall, polished concrete',
    setup: 'soft wheels',
    metric: true,
    windowM: 0.5,
    lanes: [
      {
        name: 'window side',
        rank: 2,
        runs: ['reports/w-1', 'reports/w-2'],
        directions: ['out', 'back'],
        lengthM: 6,
        shakePx: { value: 4.1, low: 3.4, high: 4.9 },
        places: { atM: at, shakePx: shake(2.6, 2.5, 8) },
        joints: [
          { atM: 1.2, heightMm: 0.6 },
          { atM: 2.5, heightMm: 3.2 },
          { atM: 4.9, heightMm: 0.8 },
        ],
        avoid: [{ fromM: 2.1, toM: 2.9, shakePx: 9.7, timesUsual: 3.6, joints: 1 }],
      },
      {
        name: 'middle',
        rank: 1,
        runs: ['reports/m-1'],
        directions: ['out'],
        lengthM: 6,
        shakePx: { value: 2.2, low: 1.8, high: 2.7 },
        places: { atM: at, shakePx: shake(2.1, 9, 0) },
        joints: [{ atM: 3.1, heightMm: 0.5 }],
        avoid: [],
      },
      {
        name: 'wall side',
        rank: 3,
        runs: ['reports/s-1'],
        directions: ['back'],
        lengthM: 4.5,
        shakePx: { value: 5.2, low: 4.2, high: 6.4 },
        places: { atM: at.slice(0, 18), shakePx: shake(4.2, 0.4, 5).slice(0, 18) },
        joints: [
          { atM: 0.4, heightMm: 2.1 },
          { atM: 3.6, heightMm: 1.4 },
        ],
        avoid: [
          { fromM: 0, toM: 0.8, shakePx: 9.1, timesUsual: 2.1, joints: 1 },
          { fromM: 3.4, toM: 3.8, shakePx: 8, timesUsual: 1.9, joints: 1 },
        ],
      },
    ],
    best: {
      lane: 'middle',
      sentence: 'Take the middle: 2.2 px RMS against 4.1 px of the next lane.',
    },
    avoid: 'Keep off 2.1 to 2.9 m of the window side: it shakes 3.6 times as much as the rest of that lane.',
  };
  change(plan);
  return plan;
}
