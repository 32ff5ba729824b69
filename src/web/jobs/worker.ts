/** The process of one job: takes its task, tells how far it is, and ends; it also ends when nobody listens any more. */
import { printableLines } from '../../run/index.js';
import { problemOf } from '../server/problem.js';
import type { FromWorker, Outcome, Task, ToWorker } from './protocol.js';

/** Time to clear up once nobody listens any more, ms. */
const LAST_MS = 2000;

const stopping = new AbortController();

// The end of the server closes the channel; ending takes FFmpeg along.
process.once('disconnect', () => {
  stopping.abort();
  setTimeout(() => process.exit(1), LAST_MS);
});
process.on('message', (message: ToWorker) => {
  if (message.kind === 'stop') stopping.abort();
  else void work(message.task).then((last) => tell(last, () => process.exit(0)));
});
tell({ kind: 'ready' });

async function work(task: Task): Promise<FromWorker> {
  try {
    return { kind: 'done', outcome: await outcomeOf(task) };
  } catch (error) {
    const problem = problemOf(error);
    if (problem.code === 'fault')
      process.stderr.write(
        printableLines(`${error instanceof Error ? (error.stack ?? error.message) : String(error)}\n`),
      );
    return { kind: 'failed', problem };
  }
}

/** The line is loaded only now: so the first sign of life comes at once. */
async function outcomeOf(task: Task): Promise<Outcome> {
  if (task.kind === 'measure') {
    const { measureTask } = await import('./measure-task.js');
    return measureTask(task, tell, stopping.signal);
  }
  const { proofTask } = await import('./proof-task.js');
  return proofTask(task, tell, stopping.signal);
}

function tell(message: FromWorker, told: () => void = () => {}): void {
  process.send?.(message, undefined, undefined, told);
}
