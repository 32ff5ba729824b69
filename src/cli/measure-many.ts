/** `trundle measure FOLDER`: measures the clips of folders, some at once, and prints a table of them. */
import os from 'node:os';
import type { ParsedArgs } from 'citty';
import { figuresIn, measureMany, type ClipOutcome, type MeasuredMany } from '../batch/index.js';
import { findTools } from '../footage/index.js';
import { EXIT, TrundleError, printable, printableJson, type ExitStatus } from '../run/index.js';
import { batchTexts } from '../texts/index.js';
import { BatchDisplay } from './batch-display.js';
import { batchTable, failureLine, isStopped, summaryLine } from './batch-words.js';
import { requestFor } from './clip-request.js';
import { clipsAtOnce } from './clips-at-once.js';
import { statusOfGrade, type FailOn } from './fail-on.js';
import { typedOf } from './flags.js';
import type { Io } from './io.js';
import { placeOfLog } from './log-place.js';
import type { MeasureCommandArgs } from './measure-args.js';
import { PASS_ARGS } from './pass-options.js';
import { paperOf } from './report-options.js';

/** Options that say nothing of how a clip is measured: what was kept of it stays as it is. */
const OF_SHEET_AND_REPORT = [...Object.keys(PASS_ARGS), 'out-dir', 'pdf', 'units'];

/**
 * Does it.
 * @returns the worst status of all clips
 * @throws TrundleError `argument-invalid`; of rig and deliveries where they concern all clips; of the log; `interrupted` where clips are left
 */
export async function measureManyClips(
  args: ParsedArgs<MeasureCommandArgs>,
  failOn: FailOn,
  io: Io,
): Promise<ExitStatus> {
  const quiet = args.quiet === true;
  const layout = clipsAtOnce(args.jobs, (sentence) => io.err(`${sentence}\n`));
  // Which rig file was found beside each of hundreds of clips is not told.
  const still: Io = { ...io, err: () => {} };
  // What is wrong with the options themselves is told before any clip is looked at: beside this one lies no rig file.
  requestFor(os.devNull, args, still);
  const tools = await findTools();
  const giveUp = io.secondInterrupt?.() ?? new AbortController().signal;
  const display = new BatchDisplay(io, quiet);
  const say = (text: string): void => display.say(printable(text));
  if (!quiet && args.watch) say(batchTexts.watching(args._));
  const onInterrupt = (): void => {
    if (display.underWay > 0) say(batchTexts.finishing(display.underWay));
  };
  io.signal.addEventListener('abort', onInterrupt, { once: true });
  let done: MeasuredMany;
  let hasBegun = false;
  try {
    done = await measureMany({
      ...{ places: args._, recursive: args.recursive === true, watch: args.watch === true },
      ...{ outDir: args['out-dir'] ?? 'reports', again: args.again === true, ...layout },
      logFile: args.unlogged ? null : placeOfLog(args['data-dir']),
      ...{ paper: paperOf(args), tools, withDocuments: args.json === true },
      requestFor: (clip) => requestFor(clip, args, still),
      watcher: {
        found: (clips) => display.found(clips),
        begun(clip) {
          if (!hasBegun && !quiet) say(`${batchTexts.atOnce(layout.atOnce)}.`);
          hasBegun = true;
          display.begun(clip);
        },
        progress: (clip, stage, ...howFar) => display.progress(clip, stage, ...howFar),
        ended(clip, outcome) {
          display.ended(clip, outcome);
          const document = documentIn(outcome);
          if (document !== null) io.out(`${printableJson(document, 0)}\n`);
          if (outcome.kind === 'measured')
            for (const notice of outcome.measured.notices) display.say(failureLine(clip.path, notice));
        },
      },
      onWarning: ({ code, text }) => display.say(`${printable(text)} [${code}]`),
      onUnnamed: (files) => say(batchTexts.unnamed(files.length, files[0] ?? '')),
      ...{ drain: io.signal, giveUp },
    });
  } finally {
    io.signal.removeEventListener('abort', onInterrupt);
    display.close();
  }
  return told(done, { left: display.waiting, failOn, args, io });
}

interface Telling {
  /** Clips that were not begun. */
  readonly left: number;
  readonly failOn: FailOn;
  readonly args: ParsedArgs<MeasureCommandArgs>;
  readonly io: Io;
}

/** Prints table, summary and failures. @returns the worst status @throws TrundleError `interrupted` where clips are left */
function told({ clips, places }: MeasuredMany, { left, failOn, args, io }: Telling): ExitStatus {
  // With --json standard output holds documents alone.
  const print = (text: string): void => (args.json ? io.err(text) : io.out(text));
  const outcomes = [...clips.values()];
  const table = batchTable(clips);
  if (table !== '') print(table);
  if (clips.size + left > 0 || places.length === 0) print(`${summaryLine(clips, left)}\n`);
  if (outcomes.some(({ outcome }) => outcome.kind === 'measured'))
    print(`${batchTexts.reports(printable(args['out-dir'] ?? 'reports'))}\n`);
  const kept = outcomes.filter(({ outcome }) => outcome.kind === 'kept').length;
  const idle = typedOf(OF_SHEET_AND_REPORT, args);
  if (kept > 0 && idle.length > 0) io.err(`${batchTexts.passedBy(kept, idle)}\n`);
  const failures = [
    ...places,
    ...outcomes.flatMap(({ clip, outcome }) =>
      outcome.kind === 'failed' && !isStopped(outcome) ? [{ path: clip.path, failure: outcome.failure }] : [],
    ),
  ];
  for (const { path, failure } of failures) io.err(`trundle: ${failureLine(path, failure)}\n`);
  const stopped = left + outcomes.filter(({ outcome }) => isStopped(outcome)).length;
  if (stopped > 0) throw new TrundleError('interrupted', batchTexts.interrupted(stopped));
  const statuses = [
    ...failures.map(({ failure }) => failure.status),
    ...outcomes.flatMap(({ outcome }) => statusesOf(outcome, failOn)),
  ];
  return statuses.reduce<ExitStatus>((worst, one) => (one > worst ? one : worst), EXIT.measured);
}

function statusesOf(outcome: ClipOutcome, failOn: FailOn): ExitStatus[] {
  const figures = figuresIn(outcome);
  const notices = outcome.kind === 'measured' ? outcome.measured.notices : [];
  return [
    ...(figures === null ? [] : [statusOfGrade(figures.grade, failOn)]),
    ...notices.map(({ status }) => status),
  ];
}

function documentIn(outcome: ClipOutcome): object | null {
  if (outcome.kind === 'measured') return outcome.measured.document;
  return outcome.kind === 'kept' ? outcome.kept.document : null;
}
