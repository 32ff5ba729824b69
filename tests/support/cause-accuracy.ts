/** What is named against what is wrong: one pass of known causes through the whole program. Used by tests and by the table of filmed causes. */
import fs from 'node:fs';
import { measure } from '../../src/measure.js';
import { parseRigFile, type ShakeSourceSection, type SpectrumSection } from '../../src/run/index.js';
import type { TrueCause } from '../../src/synth/index.js';
import { CREW_KNOWS, type CausePass } from './cause-passes.js';
import { madeUpClip } from './made-up-clip.js';

/** One pass as measured. */
export interface CauseAccuracy {
  readonly pass: CausePass;
  readonly spectrum: SpectrumSection;
  readonly truth: readonly TrueCause[];
  /** Sources with a name that is not true there. */
  readonly wrong: readonly ShakeSourceSection[];
  /** True causes that no source is named after. */
  readonly lacking: readonly TrueCause[];
  readonly trueSpeedMps: number;
  readonly filmingS: number;
  readonly measuringS: number;
}

/** Resolution of 10 s: a name is true of a line this near to its cause, Hz. */
const SAME_LINE_HZ = 0.1;
/** A resonance is as wide as its damping, and its top hangs on the floor. */
const SAME_MOUNT_SHARE = 0.12;

/** Whether a source is named after this cause, and shakes at its frequency. */
export function isNamedAfter({ cause, trueHz }: ShakeSourceSection, truth: TrueCause): boolean {
  if (cause !== truth.cause) return false;
  if (cause === 'mount') return Math.abs(trueHz / truth.freqHz - 1) <= SAME_MOUNT_SHARE;
  // Equal joints shake at every whole multiple of their beat; all else here at one frequency.
  const order = cause === 'joint' ? Math.max(1, Math.round(trueHz / truth.freqHz)) : 1;
  return Math.abs(trueHz - order * truth.freqHz) <= SAME_LINE_HZ;
}

/** Films a pass (or takes it from the cache), measures it as a crew does that knows its dolly, and compares. */
export async function causeAccuracyOf(pass: CausePass, threads = 1): Promise<CauseAccuracy> {
  const startedMs = performance.now();
  const { clipFile, rigFile, truth } = await madeUpClip(pass.pass);
  const filmedMs = performance.now();
  const { rig } = parseRigFile(fs.readFileSync(rigFile, 'utf8'), rigFile);
  const { run } = await measure({ clip: clipFile, rig: { ...rig, ...CREW_KNOWS } }, { threads });
  const { spectrum } = run;
  const { causes } = truth;
  const named = spectrum.sources.filter(({ cause }) => cause !== 'unknown');
  return {
    ...{ pass, spectrum, truth: causes },
    wrong: named.filter((source) => !causes.some((cause) => isNamedAfter(source, cause))),
    lacking: causes.filter((cause) => !named.some((source) => isNamedAfter(source, cause))),
    trueSpeedMps: truth.travelM / (truth.timeS[truth.timeS.length - 1] - truth.timeS[0]),
    filmingS: (filmedMs - startedMs) / 1000,
    measuringS: (performance.now() - filmedMs) / 1000,
  };
}
