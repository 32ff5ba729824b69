/** Collects for a command line: tells of each result as it comes, of the wait, and at the end of clips that were given up. */
import path from 'node:path';
import {
  shownClip,
  verdictWord,
  type Collected,
  type Collection,
  type Coordinator,
  type KeepPlace,
} from '../queue/index.js';
import { EXIT, printable, printableJson, TrundleError, type ExitStatus } from '../run/index.js';
import { queueTexts } from '../texts/index.js';
import { Progress, tell, type Io } from './io.js';

/** How results are told. */
export interface Telling {
  readonly json?: boolean | undefined;
  readonly quiet?: boolean | undefined;
}

/** A look for results that tells of each, for `Coordinator.untilRoom` and `untilDone`. */
export function collector(
  coordinator: Coordinator,
  place: KeepPlace,
  telling: Telling,
  io: Io,
): () => Promise<Collection> {
  const told = { unreadable: 0 };
  return async () => {
    const found = await coordinator.collect(place, (one) => tellCollected(one, telling, io), io.signal);
    if (found.lost > 0) io.err(`Redis had lost what was measured on ${clips(found.lost)}; measured again.\n`);
    // What cannot be read is found again at every look.
    if (found.unreadable > told.unreadable)
      tell(
        new TrundleError(
          'result-unreadable',
          `What was measured on ${clips(found.unreadable)} was written by another version of the program and stays in the queue; bring this machine and the workers to the same version.`,
        ),
        io,
      );
    told.unreadable = found.unreadable;
    return found;
  };
}

/** Collects until everything is done or the command is stopped; clips that were given up are told at the end. */
export async function collectToTheEnd(
  coordinator: Coordinator,
  collect: () => Promise<Collection>,
  telling: Telling,
  io: Io,
): Promise<ExitStatus> {
  const progress = new Progress(io, telling.quiet === true);
  let most = 0;
  let isTold = false;
  let isIdle = false;
  await coordinator
    .untilDone(
      async () => {
        progress.clear();
        await collect();
        if (!isTold && isIdle) isTold = await tellLeft(coordinator, io);
      },
      {
        signal: io.signal,
        onLook({ toCome, running }) {
          isIdle = running === 0 && toCome > 0;
          most = Math.max(most, toCome + running);
          progress.show(`Done, ${running} under way`, most - toCome - running, most);
        },
      },
    )
    .finally(() => progress.clear());
  if (io.signal.aborted)
    throw new TrundleError(
      'interrupted',
      'Stopped waiting; workers go on, and trundle queue collect takes what they measure into the log.',
    );
  return tellFailed(coordinator, io);
}

/** Tells when nothing but clips is left that no worker may read: they are waited for, but somebody must see to it. @returns whether it told */
async function tellLeft(coordinator: Coordinator, io: Io): Promise<boolean> {
  const { left, waiting, later } = await coordinator.status();
  if (left.length === 0 || waiting + later.length > left.length) return false;
  io.err(`${queueTexts.nobodyReads(clips(left.length))}\n`);
  return true;
}

/** Tells of clips that were given up. @returns the exit status that they stand for */
export async function tellFailed(coordinator: Coordinator, io: Io): Promise<ExitStatus> {
  const { failed } = await coordinator.status();
  for (const { failure, ...clip } of failed)
    io.err(`trundle: ${printable(shownClip(clip))}: ${printable(failure.sentence)} [${failure.code}]\n`);
  return failed.length === 0 ? EXIT.measured : EXIT.clipUnusable;
}

function tellCollected(
  { name, run, runId, folder, already, worker }: Collected,
  { json }: Telling,
  io: Io,
): void {
  const where = folder === null ? '' : `, ${path.join(fromHere(folder), 'report.html')}`;
  const log = already ? `in the log already as run ${runId}` : `run ${runId}`;
  const line = `${printable(name)}: ${verdictWord(run)}; ${log}${where} (by ${printable(worker)})\n`;
  if (json) io.out(`${printableJson(run)}\n`);
  sayBeside({ json }, line, io);
}

/** A path below this folder from here, another one in full. */
function fromHere(place: string): string {
  const here = path.relative('', place);
  return here.startsWith('..') ? place : here;
}

/** Says a line where it is no part of the data that was asked for. */
export function sayBeside({ json }: Telling, line: string, io: Io): void {
  if (json) io.err(line);
  else io.out(line);
}

/** @example clips(1) // "1 clip" */
export function clips(count: number): string {
  return `${count} clip${count === 1 ? '' : 's'}`;
}
