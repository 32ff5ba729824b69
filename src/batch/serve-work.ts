/** The side of the worker: takes one task from the process that started it, tells how far it is, and ends; also when nobody listens any more. */

/** What a worker is told. */
export type ToWorker<Task> = { readonly kind: 'start'; readonly task: Task } | { readonly kind: 'stop' };

/** The first sign of life of a worker. */
export interface ReadyMessage {
  readonly kind: 'ready';
}

/** Time to clear up once nobody listens any more, ms. */
const LAST_MS = 2000;

/**
 * Serves one task.
 *
 * @param work carries the task out and gives the last message; it never throws. The signal is raised when the task is to be given up. What
 *   takes long to load is best loaded in it: so the first sign of life comes at once
 */
export function serveWork<Task, Message extends { readonly kind: string }>(
  work: (task: Task, tell: (message: Message) => void, signal: AbortSignal) => Promise<Message>,
): void {
  const stopping = new AbortController();
  const tell = (message: Message | ReadyMessage, told: () => void = () => {}): void => {
    process.send?.(message, undefined, undefined, told);
  };
  // The end of whoever started it closes the channel; ending takes FFmpeg along.
  process.once('disconnect', () => {
    stopping.abort();
    setTimeout(() => process.exit(1), LAST_MS);
  });
  process.on('message', (message: ToWorker<Task>) => {
    if (message.kind === 'stop') stopping.abort();
    else
      void work(message.task, (told) => tell(told), stopping.signal).then((last) =>
        tell(last, () => process.exit(0)),
      );
  });
  tell({ kind: 'ready' });
}
