/** `trundle deliveries`: lists the named deliveries with their figures, or writes the built-in ones to a file to edit. */
import { defineCommand } from 'citty';
import { DELIVERY_PRESETS, resolveDelivery, type DeliveryPreset } from '../judge/index.js';
import { EXIT, TrundleError, limitFigure, printable, printableJson, type ExitStatus } from '../run/index.js';
import { COMMAND_META } from './command-meta.js';
import {
  knownDeliveries,
  usualDeliveriesFile,
  writeDeliveries,
  type KnownDeliveries,
} from './deliveries-file.js';
import { DELIVERY_ARGS } from './delivery-options.js';
import type { Io } from './io.js';
import { DATA_ARGS } from './log-place.js';

const ARGS = {
  file: {
    type: 'positional',
    required: false,
    description: 'file to write with --write; deliveries.json of the data folder unless given',
  },
  deliveries: DELIVERY_ARGS.deliveries,
  write: {
    type: 'boolean',
    description: 'write the built-in deliveries to a file to edit; one that is there is left as it is',
  },
  json: { type: 'boolean', description: 'print the deliveries as JSON and nothing else on standard output' },
  ...DATA_ARGS,
} as const;

/** The command; its `run` gives the exit status. */
export function deliveriesCommand(io: Io) {
  return defineCommand({
    meta: COMMAND_META.deliveries,
    args: ARGS,
    run({ args }): ExitStatus {
      if (args._.length > 1 || (args.file !== undefined && !args.write))
        throw new TrundleError(
          'argument-invalid',
          args.write
            ? `"${args._[1]}" is one file too many; --write takes one.`
            : `"${args.file}" is not looked at; list a file with --deliveries FILE, write one with --write FILE.`,
        );
      if (args.write) {
        const file = writeDeliveries(args.file, args['data-dir']);
        io.err(`Deliveries: ${file}\n`);
        return EXIT.measured;
      }
      const known = knownDeliveries(args.deliveries, args['data-dir']);
      const all = Object.keys(known.presets).map((name) => resolveDelivery({ name }, known.presets));
      io.out(args.json ? `${printableJson(all, 2)}\n` : listed(known, usualDeliveriesFile(args['data-dir'])));
      return EXIT.measured;
    },
  });
}

function listed({ presets, file }: KnownDeliveries, usual: string): string {
  const rows = Object.entries(presets).map(([name, preset]) => {
    const { widthPx, heightPx, maxCropPercent, viewingDistanceHeights, maxResidualPx } = resolveDelivery(
      { name },
      presets,
    );
    return [
      printable(name),
      `${widthPx}x${heightPx}`,
      `${limitFigure(maxCropPercent)} %`,
      `${limitFigure(Number(viewingDistanceHeights.toPrecision(3)))} H`,
      `${limitFigure(maxResidualPx)} px RMS`,
      isBuiltIn(name, preset) ? 'built in' : 'file',
    ];
  });
  const from =
    file === null
      ? `All built in. "trundle deliveries --write" puts them into ${usual} to edit.`
      : `From ${file}, laid over the built-in ones.`;
  return [
    ...aligned([['Name', 'Size', 'Most crop', 'Watched from', 'Shake left', 'From'], ...rows]),
    '',
    'Crop is per cent of the frame width; H is the height of the 16:9 screen.',
    'Shake left follows from size and distance where no maxResidualPx is given: guidance, no standard.',
    printable(from),
    '',
  ].join('\n');
}

function isBuiltIn(name: string, preset: DeliveryPreset): boolean {
  const builtIn: DeliveryPreset | undefined = DELIVERY_PRESETS[name];
  return (
    builtIn !== undefined &&
    JSON.stringify(resolveDelivery(preset)) === JSON.stringify(resolveDelivery(builtIn))
  );
}

/** Rows as columns of even width. */
function aligned(rows: readonly (readonly string[])[]): string[] {
  const widths = rows[0].map((_, column) => Math.max(...rows.map((row) => row[column].length)));
  return rows.map((row) =>
    row
      .map((text, column) => text.padEnd(widths[column]))
      .join('  ')
      .trimEnd(),
  );
}
