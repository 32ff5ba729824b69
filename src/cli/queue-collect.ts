/** `trundle queue collect`: takes what workers have measured into the log and writes the reports. */
import { defineCommand, type ArgsDef } from 'citty';
import { EXIT, type ExitStatus } from '../run/index.js';
import type { Io } from './io.js';
import { DATA_ARGS } from './log-place.js';
import { KEEP_ARGS, QUEUE_ARGS, keepPlaceOf, withCoordinator } from './queue-options.js';
import { clips, collectToTheEnd, collector } from './queue-results.js';

const ARGS = {
  ...QUEUE_ARGS,
  wait: { type: 'boolean', description: 'wait until all is measured' },
  ...KEEP_ARGS,
  json: { type: 'boolean', description: 'print the run documents, one a line' },
  quiet: { type: 'boolean', description: 'no progress' },
  ...DATA_ARGS,
} as const satisfies ArgsDef;

/** The command; its `run` gives the exit status. */
export function queueCollectCommand(io: Io) {
  return defineCommand({
    meta: {
      name: 'collect',
      description: 'take what workers have measured into the log, and write the reports',
    },
    args: ARGS,
    run: ({ args }): Promise<ExitStatus> =>
      withCoordinator(args, io, async (coordinator) => {
        const collect = collector(coordinator, keepPlaceOf(args, io), args, io);
        if (args.wait) return collectToTheEnd(coordinator, collect, args, io);
        const { kept, unreadable } = await collect();
        io.err(`${clips(kept.length)} collected.\n`);
        return unreadable > 0 ? EXIT.wrongArguments : EXIT.measured;
      }),
  });
}
