/** Prints what a change was foretold to bring against what the same made-up floor driven that way brought: crop and shake left. */
import {
  applyChange,
  isRefused,
  outcomeOf,
  type MeasuredPass,
  type PassChange,
} from '../../src/judge/index.js';
import { mean, standardDeviation } from '../../src/numerics/index.js';
import { oneMotion } from '../../src/judge/changes/types.js';
import type { PredictedOutcome, Ranged } from '../../src/run/index.js';
import { rolledPass, type RolledPass } from '../judge/advice/support/rolled-pass.js';

const FLOORS = 30;
const GD_M3 = 2e-6;
const PASS = { gdM3: GD_M3, speedMps: 0.2, durationS: 12 } as const;

const JOINTS = { spacingM: 0.6, lippageM: 0.0007, gapWidthM: 0.004, gapDepthM: 0.002 };

/** Name, change, what the floor that is driven has otherwise, and what both passes have besides. */
type Case = readonly [
  name: string,
  change: PassChange | ((pass: MeasuredPass) => PassChange),
  driven: (seed: number) => Partial<RolledPass>,
  both?: Partial<RolledPass>,
];

const CASES: readonly Case[] = [
  ['0.6 x the speed', { what: 'speed', speedMps: 0.12 }, () => ({ speedMps: 0.12, durationS: 20 })],
  ['1.5 x the speed', { what: 'speed', speedMps: 0.3 }, () => ({ speedMps: 0.3, durationS: 8 })],
  [
    'axles 0.3 m apart',
    { what: 'wheelbase', wheelbaseM: 0.3 },
    () => ({ wheelbaseM: 0.3, rig: { wheelbaseM: 0.3 } }),
  ],
  [
    'axles 0.7 m apart',
    { what: 'wheelbase', wheelbaseM: 0.7 },
    () => ({ wheelbaseM: 0.7, rig: { wheelbaseM: 0.7 } }),
  ],
  ['soft tyres', { what: 'wheel', tyre: 'soft' }, () => ({ patchM: 0.045 })],
  [
    'boards, a quarter of Gd',
    { what: 'smoothSurface', psdM3: GD_M3 / 4 },
    (seed) => ({ seed: seed + 500, gdM3: GD_M3 / 4 }),
  ],
  [
    'all joints shimmed',
    ({ sections: { surface } }) => ({ what: 'shim', bumps: [...surface.bumps.keys()] }),
    () => ({ joints: { ...JOINTS, lippageM: 0, gapWidthM: 0, gapDepthM: 0 } }),
    { joints: JOINTS },
  ],
  [
    'wheels twice as large over joints',
    { what: 'wheel', diameterM: 0.16 },
    () => ({ wheelRadiusM: 0.08 }),
    { joints: JOINTS },
  ],
  [
    'axles 0.7 m apart over joints',
    { what: 'wheelbase', wheelbaseM: 0.7 },
    () => ({ wheelbaseM: 0.7, rig: { wheelbaseM: 0.7 } }),
    { joints: JOINTS },
  ],
];

interface Row {
  readonly lnRatios: number[];
  inside: number;
}

/** Prints the table. */
export function printChangeTable(write: (text: string) => void): void {
  write(
    `\nChanges foretold from one pass, ${FLOORS} made-up floors each: foretold over true, and how many lay within 95 %\n\n`,
  );
  write(
    '| change | crop: middle, sd of ln, inside | shake left: middle, sd of ln, inside |\n|---|---|---|\n',
  );
  for (const [name, change, driven, both] of CASES) {
    const crop: Row = { lnRatios: [], inside: 0 };
    const left: Row = { lnRatios: [], inside: 0 };
    for (let seed = 101; seed < 101 + FLOORS; seed++) {
      const pass = rolledPass({ seed, ...PASS, ...both });
      const truth = asDriven(rolledPass({ seed, ...PASS, ...both, ...driven(seed) }));
      const answer = applyChange(pass, typeof change === 'function' ? change(pass) : change);
      if (isRefused(answer)) continue;
      const outcome = outcomeOf(pass, answer);
      count(crop, outcome.cropPercent, truth.cropPercent.value);
      if (outcome.residualPx !== null && truth.residualPx !== null)
        count(left, outcome.residualPx, truth.residualPx.value);
    }
    write(`| ${name} | ${inWords(crop)} | ${inWords(left)} |\n`);
  }
}

function asDriven(pass: MeasuredPass): PredictedOutcome {
  const { motion } = pass;
  return outcomeOf(pass, oneMotion(motion));
}

function count(row: Row, { value, low, high }: Ranged, truth: number): void {
  row.lnRatios.push(Math.log(value / truth));
  if (low <= truth && truth <= high) row.inside++;
}

function inWords({ lnRatios, inside }: Row): string {
  const all = Float64Array.from(lnRatios);
  return `${Math.exp(mean(all)).toFixed(2)}, ${standardDeviation(all).toFixed(2)}, ${inside} of ${all.length}`;
}
