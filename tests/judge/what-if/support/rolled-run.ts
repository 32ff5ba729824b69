/** A made-up pass as the files of its run: the document with the verdict, and the series; for questions that are asked of files. */
import fs from 'node:fs/promises';
import path from 'node:path';
import { storeMotion } from '../../../../src/motion/index.js';
import type { MeasuredPass } from '../../../../src/judge/index.js';
import { SERIES_SCHEMA, parseRun, type RunDocument, type RunSeries } from '../../../../src/run/index.js';
import { madeUpRun } from '../../../report/support/made-up-run.js';
import { verdictOf } from '../../advice/support/rolled-pass.js';

/** The document and the series of a pass. */
export function filesOf(pass: MeasuredPass): { run: RunDocument; series: RunSeries } {
  const { rig, delivery, sections, motion, choice, floor } = pass;
  const template = madeUpRun();
  const run = parseRun({
    ...template,
    ...sections,
    clip: { ...sections.clip, ...pass.source },
    rig: { ...rig, assumed: [] },
    pass: { floor: 'dairy hall', lane: 'tiles', setup: 'hard wheels' },
    delivery,
    verdict: verdictOf(pass),
  });
  const series: RunSeries = {
    schema: SERIES_SCHEMA,
    clipSha256: run.clip.sha256,
    createdAt: run.createdAt,
    stabilise: { ...choice },
    motion: storeMotion(motion),
    floor,
    frame: null,
  };
  return { run, series };
}

/** Writes the run folder. @returns the folder */
export async function writeRolledRun(parent: string, name: string, pass: MeasuredPass): Promise<string> {
  const folder = path.join(parent, name);
  const { run, series } = filesOf(pass);
  await fs.mkdir(folder, { recursive: true });
  await fs.writeFile(path.join(folder, 'run.json'), JSON.stringify(run));
  await fs.writeFile(path.join(folder, 'series.json'), JSON.stringify(series));
  return folder;
}
