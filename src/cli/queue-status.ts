/** `trundle queue status`: what waits, what runs where, what is tried again, what was given up and why. */
import { defineCommand, type ArgsDef } from 'citty';
import { shownAddress, shownClip, type QueueStatus, type WorkProgress } from '../queue/index.js';
import { EXIT, printable, printableJson, type ExitStatus } from '../run/index.js';
import { queueTexts } from '../texts/index.js';
import { STAGE_WORDS } from './clip-request.js';
import type { Io } from './io.js';
import { QUEUE_ARGS, queueOf, withCoordinator } from './queue-options.js';
import { clips } from './queue-results.js';

const ARGS = {
  ...QUEUE_ARGS,
  'forget-failed': { type: 'boolean', description: 'take the clips that were given up off the queue' },
  json: { type: 'boolean', description: 'as JSON' },
} as const satisfies ArgsDef;

/** The command; its `run` gives the exit status. */
export function queueStatusCommand(io: Io) {
  return defineCommand({
    meta: { name: 'status', description: 'say what waits, what runs where, and what failed' },
    args: ARGS,
    run: ({ args }): Promise<ExitStatus> =>
      withCoordinator(args, io, async (coordinator) => {
        const status = await coordinator.status();
        const { address, queue } = queueOf(args);
        if (args.json) io.out(`${printableJson(status, 2)}\n`);
        else io.out(`Queue ${queue} at ${shownAddress(address)}\n${statusText(status)}`);
        if (args['forget-failed']) io.err(`${clips(await coordinator.forgetFailed())} taken off.\n`);
        return EXIT.measured;
      }),
  });
}

/** The status in lines; each ends with "\n". */
export function statusText(status: QueueStatus): string {
  const { waiting, left, running, inStretches, later, failed, toCollect, workers } = status;
  const counts = [
    `${waiting} waiting`,
    `${running.length} running`,
    `${later.length} to be tried again`,
    `${failed.length} failed`,
    `${toCollect} to collect`,
  ];
  const workerCount = workers.length === 1 ? '1 worker' : `${workers.length} workers`;
  const lines = [
    `${counts.join(', ')}; ${workerCount}`,
    ...running.map(
      ({ worker, progress, ...clip }) =>
        `running  ${shownClip(clip)}  on ${worker ?? 'a worker'}${progressWords(progress)}`,
    ),
    ...inStretches.map(
      ({ done, count, ...clip }) => `long     ${shownClip(clip)}  ${done} of ${count} stretches measured`,
    ),
    ...left.map(
      ({ worker, failure, ...clip }) =>
        `waiting  ${shownClip(clip)}  ${queueTexts.leftBy(worker)}: ${failure.sentence} [${failure.code}]`,
    ),
    ...later.map(
      ({ failures, attempts, failure, ...clip }) =>
        `later    ${shownClip(clip)}  try ${failures + 1} of ${attempts}: ${failure.sentence} [${failure.code}]`,
    ),
    ...failed.map(
      ({ failure, ...clip }) => `failed   ${shownClip(clip)}  ${failure.sentence} [${failure.code}]`,
    ),
  ];
  if (toCollect > 0) lines.push('Take what is measured into the log with trundle queue collect.');
  if (failed.length > 0) lines.push('What failed is tried again when it is added again.');
  return lines.map((line) => `${printable(line)}\n`).join('');
}

const STATUS_WORDS: Readonly<Record<WorkProgress['stage'], string>> = {
  ...STAGE_WORDS,
  fetch: 'Fetching, byte',
  stretches: 'Joining stretches',
};

function progressWords(progress: WorkProgress | null): string {
  if (progress === null) return '';
  const { stage, done, total } = progress;
  const word = STATUS_WORDS[stage] ?? stage;
  return `  ${word}: ${done}${total === null ? '' : ` of ${total}`}`;
}
