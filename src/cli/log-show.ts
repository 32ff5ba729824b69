/** `trundle log show ID`: the summary of a kept run again. */
import { defineCommand, type ArgsDef } from 'citty';
import type { LogRow, LoggedRun } from '../log/index.js';
import { reportOf } from '../logged-report.js';
import { terminalSummary } from '../report/index.js';
import { EXIT, printable, printableJson, type ExitStatus } from '../run/index.js';
import type { Io } from './io.js';
import { DATA_ARGS, idsOf, withRuns } from './log-place.js';
import { localMinute } from './log-table.js';

const ARGS = {
  run: { type: 'positional', required: true, valueHint: '4', description: 'number of the run' },
  json: {
    type: 'boolean',
    description:
      'print the run document and nothing else, with its sheet as it is now; one line each of several',
  },
  ...DATA_ARGS,
} as const satisfies ArgsDef;

/** The command; its `run` gives the exit status. */
export function logShowCommand(io: Io) {
  return defineCommand({
    meta: { name: 'show', description: 'print the summary of a run again' },
    args: ARGS,
    run: ({ args }): Promise<ExitStatus> =>
      withRuns(args['data-dir'], io, async (log) => {
        const runs = idsOf(args._).map((id) => log.get(id));
        const indent = runs.length > 1 ? 0 : 2;
        io.out(
          args.json
            ? runs.map(({ run }) => `${printableJson(run, indent)}\n`).join('')
            : (await Promise.all(runs.map(summaryOf))).join('\n\n'),
        );
        return EXIT.measured;
      }),
  });

  async function summaryOf({ row, run }: LoggedRun): Promise<string> {
    const report = (await reportOf(row))?.page ?? `not there; trundle log open ${row.id} writes it anew`;
    return `${sheetLines(row)}\n${terminalSummary(run, { colour: io.colour, columns: io.columns })}\nReport: ${printable(report)}\n`;
  }
}

/** What the crew wrote, for people: one line, and one for the notes. */
function sheetLines({ id, createdAt, pass }: LogRow): string {
  const words = [
    pass.location,
    pass.floor,
    pass.lane && `lane ${pass.lane}`,
    pass.direction,
    pass.setup,
    pass.wheels,
    pass.track,
    pass.passNumber && `pass ${pass.passNumber}`,
    pass.operator,
    pass.production,
    pass.unit,
    pass.roll && `roll ${pass.roll}`,
    pass.slate && `slate ${pass.slate}`,
    pass.take && `take ${pass.take}`,
    pass.mark === 'noGood' ? 'marked no good' : pass.mark && 'marked good',
    ...(pass.tags ?? []).map((tag) => `#${tag}`),
  ].filter((word) => word !== undefined);
  const line = [`Run ${id}, measured ${localMinute(createdAt)}`, ...words].join(', ');
  return `${printable(line)}\n${pass.notes === undefined ? '' : `Notes: ${printable(pass.notes)}\n`}`;
}
