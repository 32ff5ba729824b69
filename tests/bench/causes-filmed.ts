/** What is named in filmed passes of one known cause, two at once and none, at three speeds: `npm run bench:accuracy -- causes-filmed`. */
import fs from 'node:fs';
import { measure } from '../../src/measure.js';
import { parseRigFile, type ShakeSourceSection } from '../../src/run/index.js';
import { CAUSE_PASSES, CREW_KNOWS, type CausePass } from '../support/cause-passes.js';
import { madeUpClip } from '../support/made-up-clip.js';

/** Measures one pass as a crew would that knows its dolly. */
export async function sourcesOf({ pass }: CausePass): Promise<readonly ShakeSourceSection[]> {
  const { clipFile, rigFile } = await madeUpClip(pass);
  const { rig } = parseRigFile(fs.readFileSync(rigFile, 'utf8'), rigFile);
  const { run } = await measure({ clip: clipFile, rig: { ...rig, ...CREW_KNOWS } });
  return run.spectrum.sources;
}

/** One line for each pass. */
export async function reportFilmedCauses(): Promise<void> {
  let wrong = 0;
  let missed = 0;
  for (const one of CAUSE_PASSES) {
    const sources = await sourcesOf(one);
    const named = sources.filter(({ cause }) => cause !== 'unknown');
    const false_ = named.filter(({ cause }) => !one.causes.includes(cause));
    const lacking = one.causes.filter((cause) => !named.some((source) => source.cause === cause));
    wrong += false_.length;
    missed += lacking.length;
    const told = sources.map(
      ({ freqHz, cause, confidence, axes, sound }) =>
        `${freqHz.toFixed(2)} ${cause}${confidence === null ? '' : ` ${confidence.toFixed(2)}`} (${axes.join('/')}${sound ? `, heard at ${sound.trueHz.toFixed(1)}` : ''})`,
    );
    console.log(`${one.pass.name.padEnd(24)} ${false_.length} wrong, lacks [${lacking.join(', ')}]: ${told.join('; ')}`);
  }
  console.log(`${CAUSE_PASSES.length} passes: ${wrong} wrong names, ${missed} causes without their name`);
}
