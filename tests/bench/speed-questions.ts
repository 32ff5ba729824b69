/** How long questions to measured passes of 10 s take: a plan, the verdict with its advice, what if, a comparison, a lane plan; ms and ratios. */
import { ASSUMED_SPREADS, compareSetups, lanePlan, whatIf } from '../../src/judge/index.js';
import { planStabilisation } from '../../src/stabilise/index.js';
import { rolledPass, verdictOf, withLimits } from '../judge/advice/support/rolled-pass.js';
import { madeUpComparedPass } from '../support/made-up-runs.js';
import { medianMs } from './median-ms.js';

/** Prints the table; the plan of the stabilisation is the unit. */
export function printQuestionTable(write: (text: string) => void): void {
  const pass = rolledPass({ seed: 3, gdM3: 8e-6, speedMps: 0.25, durationS: 10 });
  const failing = withLimits(pass, 0.3, 0.2);
  const { motion, delivery, rig, source } = pass;
  const compared = ['hard wheels', 'soft tyres'].flatMap((setup) =>
    [1, 2].flatMap((passSeed) =>
      ['1', '2'].map((lane) => madeUpComparedPass({ setup, passSeed, lane, passNumber: passSeed })),
    ),
  );
  const planMs = medianMs(() =>
    planStabilisation({ motion, camera: motion.camera, delivery, rig, source }, { seed: 1 }),
  );
  write(
    '\nQuestions to passes of 10 s, median of five\n\n| question | ms | over one plan |\n|---|---|---|\n',
  );
  const row = (name: string, ms: number): void =>
    write(`| ${name} | ${ms.toFixed(0)} | ${(ms / planMs).toFixed(2)} |\n`);
  row('plan of the stabilisation', planMs);
  row(
    'verdict of a pass that passes',
    medianMs(() => verdictOf(pass)),
  );
  row(
    'verdict of one that fails, with its advice',
    medianMs(() => verdictOf(failing)),
  );
  row(
    'what if: another lens and speed',
    medianMs(() => whatIf(pass, { focalLengthMm: 50, speedMps: 0.2 })),
  );
  row(
    'comparison of 2 setups, 8 passes',
    medianMs(() => compareSetups(compared, { by: 'setup' })),
  );
  row(
    'plan of 2 lanes, 8 passes',
    medianMs(() => lanePlan(compared, ASSUMED_SPREADS)),
  );
}
