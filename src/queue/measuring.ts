/**
 * The process of one measurement: measures a clip as it was ordered and hands over all that a report is made from; or a stretch of a long
 * one, and hands over its record.
 */
import { serveWork } from '../batch/plain.js';
import type { MeasureHooks } from '../measure-request.js';
import type { Measured } from '../measure.js';
import { TrundleError, printableLines } from '../run/index.js';
import type { FromMeasuring, MeasureOrder } from './protocol.js';
import { packMeasured, requireFitting } from './results.js';

/** Least time between two words on how far it is, ms. */
const BETWEEN_MS = 500;

serveWork(
  async (task: MeasureOrder, tell: (message: FromMeasuring) => void, signal): Promise<FromMeasuring> => {
    try {
      return await measured(task, tell, signal);
    } catch (error) {
      const isSaid = error instanceof TrundleError;
      const message = error instanceof Error ? error.message : String(error);
      if (!isSaid)
        process.stderr.write(
          printableLines(`${error instanceof Error ? (error.stack ?? message) : message}\n`),
        );
      // Where the clip lies on this machine means nothing to whoever ordered it.
      return {
        kind: 'failed',
        code: isSaid ? error.code : null,
        message: message.replaceAll(task.file, task.order.name),
      };
    }
  },
);

async function measured(
  task: MeasureOrder,
  tell: (message: FromMeasuring) => void,
  signal: AbortSignal,
): Promise<FromMeasuring> {
  const { file, order, part, limits, tools, threads } = task;
  const [{ measure }, stretches] = await Promise.all([
    import('../measure.js'),
    import('../measure-stretches.js'),
  ]);
  const request = { clip: file, ...order.request };
  const hooks: MeasureHooks = { signal, tools, threads, onProgress: teller(tell) };
  switch (part.kind) {
    case 'clip': {
      const { count, frames } = await stretches.stretchPlan(request, hooks, limits);
      requireFitting(frames, order.name);
      if (count === 0 || !part.inStretches) return handedOver(await measure(request, hooks), task);
      return {
        kind: 'stretch',
        count,
        record: await stretches.measureStretch(request, 0, null, hooks, limits),
      };
    }
    case 'stretch': {
      const { number, count, first } = part;
      requireSameStretches(await stretches.countStretches(request, hooks, limits), count);
      const record = await stretches.measureStretch(request, number, first, hooks, limits);
      return { kind: 'stretch', count, record };
    }
    case 'join': {
      const { records } = part;
      requireSameStretches(await stretches.countStretches(request, hooks, limits), records.length);
      return handedOver(await stretches.measureJoined(request, records, hooks, limits), task);
    }
  }
}

async function handedOver(
  { run, series, picture }: Measured,
  { order: { name, settingsKey }, worker }: MeasureOrder,
): Promise<FromMeasuring> {
  const [{ encodePicture }, { verdictWord }] = await Promise.all([
    import('../report/index.js'),
    import('./verdict-word.js'),
  ]);
  const jpeg = picture && Buffer.from(await encodePicture(picture)).toString('base64');
  const packed = packMeasured({ name, settingsKey, worker, run, series, jpeg });
  return { kind: 'done', packed, sha256: run.clip.sha256, verdict: verdictWord(run) };
}

/** Stretches of a version that cuts otherwise do not fit together with those of this one. */
function requireSameStretches(here: number, ordered: number): void {
  if (here === ordered) return;
  throw new TrundleError(
    'stretch-unreadable',
    `The clip has ${ordered} stretches where it was ordered and ${here} on this worker; bring all machines to the same version, and order it again.`,
  );
}

function teller(tell: (message: FromMeasuring) => void): NonNullable<MeasureHooks['onProgress']> {
  let last = { stage: '', atMs: 0 };
  return (stage, done, total) => {
    const atMs = performance.now();
    if (stage === last.stage && atMs - last.atMs < BETWEEN_MS) return;
    last = { stage, atMs };
    tell({ kind: 'progress', stage, done, total });
  };
}
