/** A machine of a studio as a process of its own: a worker, or the machine with the log that collects. */
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import {
  clipRulesOf,
  keepPlace,
  openCoordinator,
  work,
  type RedisAddress,
} from '../../../src/queue/index.js';

const order = JSON.parse(process.argv[2]) as {
  readonly what: 'work' | 'collect';
  readonly address: RedisAddress;
  readonly queue: string;
  readonly lockMs: number;
  readonly clips: string;
  readonly folder: string;
  readonly measuring: string;
  readonly logFile: string;
  readonly outDir: string;
};
const { address, queue, lockMs } = order;
const say = (text: string): void => void process.stdout.write(`${text}\n`);
const never = new AbortController().signal;

if (order.what === 'work') {
  await work({
    ...{ address, queue, lockMs, name: `machine.${process.pid}`, atOnce: 2, threads: 1 },
    rules: clipRulesOf({ maps: [], folders: [order.clips], origins: [] }),
    tempFolder: path.join(order.folder, 'temp'),
    tools: {} as never,
    ...{ signal: never, giveBack: never, untilEmpty: true },
    onEvent: (event) => say('name' in event ? `${event.kind} ${event.name}` : event.kind),
    means: { url: pathToFileURL(order.measuring) },
  });
} else {
  const coordinator = await openCoordinator({ address, queue });
  await coordinator.collect(keepPlace({ logFile: order.logFile, outDir: order.outDir }), () => say('kept'));
  await coordinator.close();
}
