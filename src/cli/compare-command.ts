/** `trundle compare RUN...`: sets runs against each other by setup and lane, writes the comparison, prints the answer. */
import { defineCommand } from 'citty';
import { compareRuns } from '../compare.js';
import { comparisonText } from '../report/index.js';
import { type ExitStatus, printableJson } from '../run/index.js';
import { comparisonFolder, writeComparison } from '../write-comparison.js';
import { COMMAND_META } from './command-meta.js';
import { COMPARE_ARGS, compareRequest } from './compare-options.js';
import type { Io } from './io.js';
import { paperOf, printBeside, unitsOf } from './report-options.js';

/** The command; its `run` gives the exit status. */
export function compareCommand(io: Io) {
  return defineCommand({
    meta: COMMAND_META.compare,
    args: COMPARE_ARGS,
    async run({ args }): Promise<ExitStatus> {
      const paper = paperOf(args);
      const units = unitsOf(args.units);
      const comparison = await compareRuns(compareRequest(args));
      const [a, b] = comparison.groups.map(({ name }) => name);
      const folder = args['out-dir'] ?? comparisonFolder(a, b);
      const { page, replaced } = await writeComparison(folder, comparison, { units });
      if (args.json) {
        io.out(`${printableJson(comparison, 2)}\n`);
        if (!args.quiet) io.err(`Page: ${page}\n`);
      } else {
        if (replaced && !args.quiet) io.err(`Replaced the earlier comparison in ${folder}.\n`);
        io.out(
          `${comparisonText(comparison, { colour: io.colour, columns: io.columns, units })}\nPage: ${page}\n`,
        );
      }
      return printBeside(page, paper, io, { earlier: replaced, asMessage: args.json });
    },
  });
}
