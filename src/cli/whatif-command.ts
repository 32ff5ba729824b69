/** `trundle whatif RUN`: what a measured run would cost and leave with another lens, delivery, speed or dolly, without its clip. */
import { existsSync } from 'node:fs';
import fs from 'node:fs/promises';
import path from 'node:path';
import { defineCommand, type ParsedArgs } from 'citty';
import { DELIVERY_PRESETS, type DeliveryPresets } from '../judge/index.js';
import { renderWhatIf, whatIfText } from '../report/index.js';
import { TrundleError, type ExitStatus, type WhatIfDocument, printableJson } from '../run/index.js';
import { askWhatIf } from '../what-if.js';
import { COMMAND_META } from './command-meta.js';
import { knownDeliveries } from './deliveries-file.js';
import { parseFailOn, statusOfGrade } from './fail-on.js';
import type { Io } from './io.js';
import { placeOfLog } from './log-place.js';
import { paperOf, printBeside } from './report-options.js';
import { checkUnits, WHATIF_ARGS, whatIfWish } from './whatif-options.js';
import { writeWhole } from './write-whole.js';

/** The page in the folder of the run. */
const PAGE = 'whatif.html';

/** The command; its `run` gives the exit status. */
export function whatIfCommand(io: Io) {
  return defineCommand({
    meta: COMMAND_META.whatif,
    args: WHATIF_ARGS,
    async run({ args }): Promise<ExitStatus> {
      checkUnits(args._, args);
      const [place, ...more] = args._;
      if (place === undefined) throw new TrundleError('argument-invalid', 'Give the run to ask.');
      if (more.length > 0)
        throw new TrundleError('argument-invalid', `"${more[0]}" is too much: one run is asked at a time.`);
      const failOn = parseFailOn(args['fail-on']);
      const paper = paperOf(args);
      const wish = whatIfWish(args);
      const { answer, folder } = await askWhatIf(place, wish, {
        presets: presetsFor(args, io),
        logFile: placeOfLog(args['data-dir']),
      });
      const written = await writePage(args['out-dir'] ?? folder, args['out-dir'] !== undefined, answer, io);
      const page = written?.page ?? null;
      if (written?.earlier === true && !args.quiet)
        io.err(`Replaced the page of an earlier answer: ${written.page}\n`);
      if (args.json) {
        io.out(`${printableJson(answer, 2)}\n`);
        if (page !== null && !args.quiet) io.err(`Page: ${page}\n`);
      } else {
        io.out(
          `${whatIfText(answer, { colour: io.colour, columns: io.columns })}\n${page === null ? '' : `Page: ${page}\n`}`,
        );
      }
      const printed =
        written && (await printBeside(written.page, paper, io, { ...written, asMessage: args.json }));
      const { then, measured, refused } = answer;
      const status = statusOfGrade(
        refused === null ? (then ?? measured).verdict.grade : 'unmeasurable',
        failOn,
      );
      return printed !== null && printed > status ? printed : status;
    },
  });
}

/** The deliveries of the tables. A broken file of the crew is told and passed over where the question names no delivery. */
function presetsFor(values: Values, io: Io): DeliveryPresets {
  try {
    return knownDeliveries(values.deliveries, values['data-dir']).presets;
  } catch (error) {
    const named = values.for !== undefined || values.deliveries !== undefined;
    if (named || !(error instanceof TrundleError) || !error.code.startsWith('delivery-')) throw error;
    if (!values.quiet) io.err(`${error.message} The built-in deliveries were used.\n`);
    return DELIVERY_PRESETS;
  }
}

type Values = Pick<ParsedArgs<typeof WHATIF_ARGS>, 'for' | 'deliveries' | 'data-dir' | 'quiet'>;

/** Writes the page; where that cannot be, the answer stands without it. @returns where it is and whether an earlier one was there, null when it is not */
async function writePage(
  folder: string | null,
  make: boolean,
  answer: WhatIfDocument,
  io: Io,
): Promise<{ page: string; earlier: boolean } | null> {
  if (folder === null) {
    io.err('No page was written: the run has no report folder; name one with --out-dir.\n');
    return null;
  }
  const page = path.join(folder, PAGE);
  try {
    if (make) await fs.mkdir(folder, { recursive: true });
    const earlier = existsSync(page);
    await writeWhole(page, renderWhatIf(answer));
    return { page, earlier };
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code;
    if (!(error instanceof TrundleError) && code === undefined) throw error;
    io.err(`No page was written: the folder "${folder}" cannot be written; name another with --out-dir.\n`);
    return null;
  }
}
