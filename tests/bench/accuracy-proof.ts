/** Foretold against found on passes that are rendered stabilised, a line each: crop, and shake left in the picture. */
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { ANGULAR_AXES, TRANSLATIONAL_AXES, type Axis } from '../../src/run/index.js';
import { lookAgain } from '../support/measured-again.js';
import { proofFigures } from '../support/proof-figures.js';
import { PROOF_PASSES, provePass, type ProofPass } from '../support/proof-passes.js';

/** Prints a line per pass whose name holds one of the words (all when there are none). */
export async function printProofTable(
  words: readonly string[],
  write: (text: string) => void,
): Promise<void> {
  const wanted = PROOF_PASSES.filter(
    ({ pass }) => words.length === 0 || words.some((word) => pass.name.includes(word)),
  );
  if (wanted.length === 0) return;
  write(
    'Crop in % of the width: foretold, needed by the true path. Shake left in px RMS of the delivery: foretold, foretold over followed in the rendered clip, foretold over that of scene and true path. RMS after over before, %: pan/tilt/roll ; lateral/vertical/axial\n\n' +
      '| pass | crop | left | foretold / followed | foretold / true | after / before |\n|---|---|---|---|---|---|\n',
  );
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'proof-'));
  try {
    for (const pass of wanted) write(await lineOf(pass, folder));
  } finally {
    fs.rmSync(folder, { recursive: true, force: true });
  }
}

async function lineOf(pass: ProofPass, folder: string): Promise<string> {
  const proved = await provePass(pass, folder);
  const before = proved.measured.motion;
  const seen = await lookAgain(proved.record.file, proved.stabilisedRig, before.bandHz[0]);
  const figures = proofFigures(proved, seen);
  const after = seen.motion();
  const share = (axis: Axis): string => {
    const { rms } = after.axes[axis];
    return rms === null ? '-' : ((100 * rms) / (before.axes[axis].rms ?? NaN)).toFixed(1);
  };
  const { cropForetold, cropNeeded, leftForetoldPx, leftFollowedPx, leftTruePx } = figures;
  const cells = [
    pass.pass.name,
    `${cropForetold.toFixed(3)} ${cropNeeded.toFixed(3)}`,
    leftForetoldPx.toFixed(2),
    (leftForetoldPx / leftFollowedPx).toFixed(3),
    (leftForetoldPx / leftTruePx).toFixed(3),
    [ANGULAR_AXES, TRANSLATIONAL_AXES].map((axes) => axes.map(share).join('/')).join(' ; '),
  ];
  return `| ${cells.join(' | ')} |\n`;
}
