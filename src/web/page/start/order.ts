/** Orders measurements of the clips that are ready; one that is refused keeps its row with the reason and stops no other. */
import { signal } from '@preact/signals';
import type { Job, JobOrder } from '../../api.js';
import { problemOf, sendJson } from '../api-client.js';
import { settingsOfForm } from '../form/form-settings.js';
import { readStretch } from '../../stretch.js';
import { ordered } from '../queue/ordered.js';
import { dropRows, select, type ReadyClip } from './batch.js';
import { settingsOfClip } from './batch-settings.js';
import { settingsOfPart } from './rig-files.js';

/** True while orders are on their way. */
export const isOrdering = signal(false);

/** Orders them in their order, each with its settings. @returns how many were refused; those that were not are off the batch */
export async function orderMeasurements(clips: readonly ReadyClip[]): Promise<number> {
  isOrdering.value = true;
  const jobs: string[] = [];
  const refused: number[] = [];
  try {
    for (const row of clips) {
      const outcome = await orderOne(row);
      row.orderFault.value = outcome.fault;
      if (outcome.job === null) refused.push(row.key);
      else {
        jobs.push(outcome.job.id);
        dropRows([row.key]);
      }
    }
  } finally {
    isOrdering.value = false;
    if (jobs.length > 0) ordered.value = jobs;
  }
  if (refused.length > 0) select(refused[0]);
  return refused.length;
}

type Outcome = { readonly job: Job; readonly fault: null } | { readonly job: null; readonly fault: string };

async function orderOne({ clip, stretch, own, rig }: ReadyClip): Promise<Outcome> {
  const whole = settingsOfForm(settingsOfClip({ own }));
  const typed = stretch.peek();
  const isPart = typed.in !== undefined || typed.out !== undefined;
  const settings = isPart ? settingsOfPart(whole, rig.peek()) : whole;
  const { inFault, outFault, tooShort } = readStretch(typed, clip);
  const fault = inFault ?? outFault ?? tooShort;
  if (fault !== null) return { job: null, fault };
  const order: JobOrder = { kind: 'measure', clip: clip.id, settings: { ...settings, ...typed } };
  try {
    return { job: await sendJson<Job>('POST', '/api/jobs', order), fault: null };
  } catch (error) {
    return { job: null, fault: problemOf(error).detail };
  }
}
