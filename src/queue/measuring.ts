/** The process of one measurement: measures a clip as it was ordered and hands over all that a report is made from. */
import { serveWork } from '../batch/plain.js';
import { TrundleError, printableLines } from '../run/index.js';
import type { FromMeasuring, MeasureOrder } from './protocol.js';

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
  { file, order, tools, threads, worker }: MeasureOrder,
  tell: (message: FromMeasuring) => void,
  signal: AbortSignal,
): Promise<FromMeasuring> {
  const [{ measure }, { encodePicture }, { packMeasured }] = await Promise.all([
    import('../measure.js'),
    import('../report/index.js'),
    import('./results.js'),
  ]);
  let toldMs = -Infinity;
  let lastStage = '';
  const { run, series, picture } = await measure(
    { clip: file, ...order.request },
    {
      ...{ signal, tools, threads },
      onProgress(stage, done, total) {
        if (stage === lastStage && performance.now() - toldMs < BETWEEN_MS) return;
        toldMs = performance.now();
        lastStage = stage;
        tell({ kind: 'progress', stage, done, total });
      },
    },
  );
  const jpeg = picture && Buffer.from(await encodePicture(picture)).toString('base64');
  const { name, settingsKey } = order;
  const packed = packMeasured({ name, settingsKey, worker, run, series, jpeg });
  return { kind: 'done', packed, sha256: run.clip.sha256, grade: run.verdict.grade };
}
