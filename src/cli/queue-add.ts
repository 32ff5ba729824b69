/** `trundle queue add CLIP...`: puts clips into the queue, those that the log has already left out; with `--wait` collects what is measured, too. */
import { setTimeout as sleep } from 'node:timers/promises';
import { defineCommand, type ArgsDef, type ParsedArgs } from 'citty';
import { listClips, sortPlaces } from '../batch/index.js';
import {
  FULL_AGAIN_MS,
  MOST_WAITING,
  USUAL_TRIES,
  isAddress,
  orderOf,
  originOf,
  runInLog,
  shownAddress,
  type Collection,
  type Coordinator,
  type Load,
  type Put,
  type TryOptions,
} from '../queue/index.js';
import { EXIT, TrundleError, printable, type ExitStatus } from '../run/index.js';
import { listOf } from '../settings/index.js';
import { batchTexts, queueTexts } from '../texts/index.js';
import { requestFor } from './clip-request.js';
import { DELIVERY_ARGS } from './delivery-options.js';
import { typedOf } from './flags.js';
import { tell, type Io } from './io.js';
import { DATA_ARGS, placeOfLog } from './log-place.js';
import { MEASURE_ARGS } from './measure-options.js';
import { PASS_ARGS } from './pass-options.js';
import {
  KEEP_ARGS,
  QUEUE_ARGS,
  keepPlaceOf,
  msOf,
  queueOf,
  wholeOf,
  withCoordinator,
} from './queue-options.js';
import { clips, collectToTheEnd, collector, sayBeside } from './queue-results.js';
import { UNITS_ARGS } from './report-options.js';
import { STABILISE_ARGS } from './stabilise-options.js';

/** Files of one clip are of no use to others, and other machines do not have them. */
const { 'motion-log': motionLog, against, 'lay-over': layOver, ...OF_ANY_CLIP } = MEASURE_ARGS;
void [motionLog, against, layOver];

const ARGS = {
  clip: {
    type: 'positional',
    required: true,
    valueHint: '/footage/hall.mov',
    description: 'clip, folder of clips, or address of a clip on a web server; several may be given',
  },
  ...QUEUE_ARGS,
  recursive: { type: 'boolean', description: 'of a folder: the clips of all folders below it, too' },
  wait: { type: 'boolean', description: 'wait until all is measured, and take it into the log' },
  allow: {
    type: 'string',
    valueHint: 'https://media.example',
    description: 'servers that clips may be read from, between commas',
  },
  'most-waiting': {
    type: 'string',
    valueHint: '1000',
    description: `clips that may wait in the queue; with more of them adding is held back (${MOST_WAITING})`,
  },
  attempts: {
    type: 'string',
    valueHint: '4',
    description: `tries of a clip where what failed may pass (${USUAL_TRIES.attempts})`,
  },
  'back-off': {
    type: 'string',
    valueHint: '30s',
    description: 'time before the second try, twice as long before each further one (30s)',
  },
  ...OF_ANY_CLIP,
  ...DELIVERY_ARGS,
  ...STABILISE_ARGS,
  ...PASS_ARGS,
  ...UNITS_ARGS,
  'out-dir': { ...KEEP_ARGS['out-dir'], description: 'with --wait: folder for the report folders' },
  json: {
    type: 'boolean',
    description: 'with --wait: print the run documents of what is collected, one a line',
  },
  quiet: { type: 'boolean', description: 'no progress' },
  ...DATA_ARGS,
} as const satisfies ArgsDef;

type Values = ParsedArgs<typeof ARGS>;

/** Longest name that an order takes, characters; a clip with a longer path goes by its own name. */
const MOST_NAME = 1000;

/** Options that say nothing of how a clip is measured: one that is measured keeps what it was measured with. */
const OF_SHEET_AND_REPORT = [...Object.keys(PASS_ARGS), ...Object.keys(UNITS_ARGS)];

/** The command; its `run` gives the exit status. */
export function queueAddCommand(io: Io) {
  return defineCommand({
    meta: { name: 'add', description: 'put clips into the queue, once each' },
    args: ARGS,
    async run({ args }): Promise<ExitStatus> {
      refuseWithoutWait(args);
      const most = wholeOf(args['most-waiting'], 'most-waiting', MOST_WAITING, [1, 100_000]);
      const tries = {
        attempts: wholeOf(args.attempts, 'attempts', USUAL_TRIES.attempts, [1, 20]),
        backOffMs: msOf(args['back-off'], 'back-off', USUAL_TRIES.backOffMs, [0.1, 3600]),
      };
      const origins = listOf(args.allow).map(originOf);
      // What is wrong with the settings concerns all clips, and is told before Redis is asked.
      requestFor(args._[0] ?? '', { ...args, quiet: true }, io);
      return withCoordinator(args, io, async (coordinator) => {
        // Whoever does not ask for results gets none by the way: where they go was not said.
        const collect = args.wait ? collector(coordinator, keepPlaceOf(args, io), args, io) : undefined;
        const held = heldTeller(most, collect !== undefined, io);
        const heldByFull = onceTeller(queueTexts.heldByFull(shownAddress(queueOf(args).address)), io);
        const room = { most, collect, held, heldByFull };
        const status = await addAll({ coordinator, room, args, origins, tries }, io);
        if (collect === undefined) return status;
        const waited = await collectToTheEnd(coordinator, collect, args, io);
        return waited > status ? waited : status;
      });
    },
  });
}

/** Options of what is collected say nothing where nothing is. @throws TrundleError `argument-invalid` */
function refuseWithoutWait(args: Values): void {
  if (args.wait) return;
  const [option] = [args['out-dir'] !== undefined && '--out-dir', args.json && '--json'].filter(Boolean);
  if (option) throw new TrundleError('argument-invalid', queueTexts.withWaitOnly(option));
}

/** Tells why adding is held back: once while clips wait, and once when only collecting makes room. */
function heldTeller(most: number, collects: boolean, io: Io): (load: Load) => void {
  const told = new Set<string>();
  return ({ toCome, measured }) => {
    const sentence =
      measured < most || collects
        ? queueTexts.heldBack(toCome, measured)
        : queueTexts.heldByMeasured(measured);
    const kind = measured < most || collects ? 'waiting' : 'measured';
    if (!told.has(kind)) io.err(`${sentence}\n`);
    told.add(kind);
  };
}

function onceTeller(sentence: string, io: Io): () => void {
  let isTold = false;
  return () => {
    if (!isTold) io.err(`${sentence}\n`);
    isTold = true;
  };
}

/** How room for further clips is waited for. */
interface Room {
  readonly most: number;
  readonly collect: (() => Promise<Collection>) | undefined;
  readonly held: (load: Load) => void;
  readonly heldByFull: () => void;
}

interface Adding {
  readonly coordinator: Coordinator;
  readonly room: Room;
  readonly args: Values;
  readonly origins: readonly string[];
  readonly tries: TryOptions;
}

async function addAll(adding: Adding, io: Io): Promise<ExitStatus> {
  const { args } = adding;
  const found = await listClips(await sortPlaces(args._.filter((one) => !isAddress(one))), {
    recursive: args.recursive === true,
    ...{ leaveOut: [args['out-dir'] ?? 'reports'], signal: io.signal },
  });
  const all = [
    ...found.clips.map(({ path, relative }) => ({ clip: path, name: relative })),
    ...args._.filter(isAddress).map((clip) => ({ clip })),
  ];
  let status: ExitStatus = EXIT.measured;
  for (const { failure } of found.failures) status = tell(failure, io);
  const [unnamed] = found.unnamed;
  if (unnamed !== undefined) io.err(`${printable(batchTexts.unnamed(found.unnamed.length, unnamed))}\n`);
  const counts = { added: 0, passedBy: 0 };
  for (const clip of all) {
    if (io.signal.aborted) break;
    try {
      const put = await addOne(clip, adding, io);
      if (put === 'added' || put === 'again') counts.added++;
      if (put === 'logged' || put === 'measured' || put === 'running') counts.passedBy++;
    } catch (error) {
      if (error instanceof TrundleError && error.code === 'interrupted') break;
      // One bad clip does not cost the others.
      if (!(error instanceof TrundleError && error.exitStatus === EXIT.clipUnusable)) throw error;
      status = tell(error, io);
    }
  }
  tellPassedBy(counts.passedBy, args, io);
  if (io.signal.aborted)
    throw new TrundleError('interrupted', queueTexts.addingStopped(counts.added, all.length));
  io.err(`${clips(counts.added)} added of ${all.length}.\n`);
  return status;
}

/** Says what was typed to no avail. */
function tellPassedBy(count: number, args: Values, io: Io): void {
  const idle = typedOf(OF_SHEET_AND_REPORT, args);
  if (count > 0 && idle.length > 0) io.err(`${queueTexts.passedBy(count, idle)}\n`);
}

/** @returns what became of it, `logged` where the log has it already; null where the end came first */
async function addOne(
  { clip, name }: { readonly clip: string; readonly name?: string },
  { coordinator, room, args, origins, tries }: Adding,
  io: Io,
): Promise<Put | 'logged' | null> {
  const order = await orderOf(
    { clip, request: requestFor(clip, args, io), ...(name && name.length <= MOST_NAME && { name }) },
    origins,
    io.signal,
  );
  const say = (text: string): void => sayBeside(args, `${printable(order.name)}: ${text}\n`, io);
  const runId = runInLog(placeOfLog(args['data-dir']), order.sha256, order.settingsKey);
  if (runId !== null) {
    say(queueTexts.inLog(runId));
    return 'logged';
  }
  const { signal } = io;
  const put = await whenRoom(() => coordinator.put(order, tries), coordinator, room, signal);
  if (put !== null) say(queueTexts.put[put]);
  return put;
}

/** Puts a clip in when there is room for it. @returns null where the end came first */
async function whenRoom(
  put: () => Promise<Put>,
  coordinator: Coordinator,
  { most, collect, held, heldByFull }: Room,
  signal: AbortSignal,
): Promise<Put | null> {
  for (;;) {
    await coordinator.untilRoom(most, { signal, onHeld: held, collect });
    if (signal.aborted) return null;
    try {
      return await put();
    } catch (error) {
      if (!(error instanceof TrundleError && error.code === 'queue-full')) throw error;
      heldByFull();
      await collect?.();
      await sleep(FULL_AGAIN_MS, undefined, { signal }).catch(() => undefined);
    }
  }
}
