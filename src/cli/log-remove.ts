/** `trundle log remove ID...`: takes runs out of the log for good. */
import { defineCommand, type ArgsDef } from 'citty';
import { EXIT, printable, TrundleError, type ExitStatus } from '../run/index.js';
import type { Io } from './io.js';
import { DATA_ARGS, idsOf, withRuns } from './log-place.js';
import { logTable } from './log-table.js';

const ARGS = {
  runs: { type: 'positional', required: true, valueHint: '4 7', description: 'numbers of the runs' },
  yes: { type: 'boolean', description: 'do it: needed for several runs, and where nobody watches' },
  ...DATA_ARGS,
} as const satisfies ArgsDef;

/** The command; its `run` gives the exit status. */
export function logRemoveCommand(io: Io) {
  return defineCommand({
    meta: { name: 'remove', description: 'take runs out of the log; report folders stay' },
    args: ARGS,
    run: ({ args }): Promise<ExitStatus> =>
      withRuns(args['data-dir'], io, (log) => {
        const ids = idsOf(args._);
        if (!args.yes && (ids.length > 1 || !io.interactive)) {
          io.err(logTable(log.rows(ids)));
          throw new TrundleError(
            'argument-invalid',
            'Nothing was removed: what goes cannot come back. Say it with --yes.',
          );
        }
        const gone = log.remove(ids);
        io.out(`Removed from the log:\n${logTable(gone)}`);
        for (const { reportFolder } of gone)
          if (reportFolder !== null) io.out(`The report folder stays: ${printable(reportFolder)}\n`);
        return EXIT.measured;
      }),
  });
}
