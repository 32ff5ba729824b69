/** The process of one job of the queue. */
import { serveWork } from '../../batch/plain.js';
import { printableLines } from '../../run/index.js';
import { problemOf } from '../server/problem.js';
import type { FromWorker, Outcome, Task } from './protocol.js';

type Tell = (message: FromWorker) => void;

serveWork(async (task: Task, tell: Tell, signal): Promise<FromWorker> => {
  try {
    return { kind: 'done', outcome: await outcomeOf(task, tell, signal) };
  } catch (error) {
    const problem = problemOf(error);
    if (problem.code === 'fault')
      process.stderr.write(
        printableLines(`${error instanceof Error ? (error.stack ?? error.message) : String(error)}\n`),
      );
    return { kind: 'failed', problem };
  }
});

/** The line is loaded only now: so the first sign of life comes at once. */
async function outcomeOf(task: Task, tell: Tell, signal: AbortSignal): Promise<Outcome> {
  if (task.kind === 'measure') {
    const { measureTask } = await import('./measure-task.js');
    return measureTask(task, tell, signal);
  }
  const { proofTask } = await import('./proof-task.js');
  return proofTask(task, tell, signal);
}
