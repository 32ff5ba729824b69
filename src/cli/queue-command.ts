/** `trundle queue`: clips that many machines measure, by a queue on Redis; results come into the log of the machine that put them in. */
import { defineCommand } from 'citty';
import { TrundleError, type ExitStatus } from '../run/index.js';
import { COMMAND_META } from './command-meta.js';
import type { Io } from './io.js';

/** The command; its subcommands do the work. */
export function queueCommand(io: Io) {
  return defineCommand({
    meta: COMMAND_META.queue,
    args: {},
    subCommands: {
      add: async () => (await import('./queue-add.js')).queueAddCommand(io),
      work: async () => (await import('./queue-work.js')).queueWorkCommand(io),
      status: async () => (await import('./queue-status.js')).queueStatusCommand(io),
      collect: async () => (await import('./queue-collect.js')).queueCollectCommand(io),
    },
    run(): ExitStatus {
      throw new TrundleError(
        'argument-invalid',
        'Say what to do with the queue: trundle queue add, work, status or collect. See trundle queue --help.',
      );
    },
  });
}
