/**
 * An invented lane and two setups through the whole line: filmed, measured, compared. One setup passes 1.6 times as much of the floor on
 * to the camera as the other; the lane has a bump.
 */
import fs from 'node:fs/promises';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { parseComparison, type Comparison } from '../../src/run/index.js';
import { expectWithin } from '../support/expect-within.js';
import { madeUpClip } from '../support/made-up-clip.js';
import { runWords } from '../support/recorded-io.js';

const TRUE_RATIO = 1.6;
/** Rough enough that the shake stands well above the noise of so small a picture. */
const GD_M3 = 1e-5;
const BUMP = { atM: 1.7, heightMm: 3, lengthMm: 120 };

/** A pass: what the crew writes down, and by how much this one came out stronger than the setup does on average. */
interface PassToFilm {
  readonly setup: 'soft tyres' | 'hard wheels';
  readonly own: number;
  readonly speedMps: number;
}

/** In the order A B B A; no two passes are the same. */
const PASSES: readonly PassToFilm[] = [
  { setup: 'soft tyres', own: 1.03, speedMps: 0.5 },
  { setup: 'hard wheels', own: 0.98, speedMps: 0.505 },
  { setup: 'hard wheels', own: 1.03, speedMps: 0.497 },
  { setup: 'soft tyres', own: 0.97, speedMps: 0.503 },
];

let folder = '';
let out = '';
let comparison: Comparison;

async function film({ setup, own, speedMps }: PassToFilm, number: number): Promise<void> {
  const factor = own * (setup === 'hard wheels' ? TRUE_RATIO : 1);
  const { clipFile, rigFile } = await madeUpClip({
    name: `compare-${number}`,
    seed: 71,
    scene: 'tiled-corridor',
    move: 'pushIn',
    durationS: 6,
    fps: 25,
    widthPx: 480,
    heightPx: 270,
    focalLengthMm: 28,
    speedMps,
    speedWander: 0,
    driftDeg: 0,
    cameraHeightM: 1,
    noiseGrey: 0.4,
    preset: 'veryfast',
    deck: {
      wheelRadiusM: 0.08,
      contactPatchM: 0.02,
      floor: {
        gdM3: GD_M3 * factor ** 2,
        bumps: [{ ...BUMP, heightMm: BUMP.heightMm * factor }],
      },
    },
  });
  const sheet = [
    '--floor',
    'tiled corridor',
    '--lane',
    '1',
    '--setup',
    setup,
    '--pass-number',
    String(number),
  ];
  // Clips of one name would share a folder.
  const clip = path.join(folder, `pass-${number}.mp4`);
  await fs.copyFile(clipFile, clip);
  const words = [
    'measure',
    '--quiet',
    '--out-dir',
    path.join(folder, 'reports'),
    '--rig',
    rigFile,
    ...sheet,
    clip,
  ];
  const { status, err } = await runWords(...words);
  expect(status, err).toBe(0);
}

beforeAll(async () => {
  folder = await fs.mkdtemp(path.join(os.tmpdir(), 'trundle-compare-film-'));
  for (const [i, pass] of PASSES.entries()) await film(pass, i + 1);
  const outDir = path.join(folder, 'compared');
  const result = await runWords('compare', '--out-dir', outDir, path.join(folder, 'reports'));
  expect(result.status, result.err).toBe(0);
  out = result.out;
  comparison = parseComparison(JSON.parse(await fs.readFile(path.join(outDir, 'comparison.json'), 'utf8')));
}, 240_000);
afterAll(() => fs.rm(folder, { recursive: true, force: true }));

describe('two setups on one lane, filmed', () => {
  it('are told apart, and the softer one is named with its ratio', () => {
    const [pair] = comparison.pairs;
    expect([pair.a, pair.b, pair.design, pair.claim]).toEqual([
      'soft tyres',
      'hard wheels',
      'oneLane',
      'thisLane',
    ]);
    const tilt = pair.axes.find(({ axis }) => axis === 'tilt')!;
    expect(tilt.says).toBe('aSmoother');
    const [low, high] = tilt.ci95!;
    expect(low).toBeLessThan(1 / TRUE_RATIO);
    expect(high).toBeGreaterThan(1 / TRUE_RATIO);
    expectWithin(tilt.ratio!, 1 / TRUE_RATIO, {
      rel: 0.06,
      why: 'passes differ by 3 %, two and two of them',
    });
    expect(pair.fair, pair.unfair.join(' ')).toBe(true);
    expect(out).toMatch(/^"soft tyres" is smoother on this lane: /);
  });

  it('both show where to keep off', () => {
    const { lanePlan } = comparison;
    expect([lanePlan?.floor, lanePlan?.metric]).toEqual(['tiled corridor', true]);
    const [lane] = lanePlan!.lanes;
    expect(lane.runs).toHaveLength(4);
    expect(lane.avoid).toHaveLength(1);
    const [{ fromM, toM }] = lane.avoid;
    // The front wheels, 0.45 m ahead, meet it first.
    expect(fromM).toBeLessThan(BUMP.atM - 0.3);
    expect(toM).toBeGreaterThan(BUMP.atM - 0.1);
    expect(lanePlan?.avoid).toMatch(/^Keep off \S+ to \S+ m of lane 1: \S+ times the usual shake/);
  });

  it('give no winner where one pass each differs by less than passes do', async () => {
    const reports = path.join(folder, 'reports');
    const { status, out: said } = await runWords(
      'compare',
      ...['--by', 'run', '--out-dir', path.join(folder, 'twins')],
      ...[1, 4].map((number) => path.join(reports, `pass-${number}`)),
    );
    expect(status).toBe(0);
    expect(said).toMatch(/^No clear difference in tilt: /);
  });
});
