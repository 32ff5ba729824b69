/** All options of `trundle measure`. */
import type { ArgsDef } from 'citty';
import { DELIVERY_ARGS } from './delivery-options.js';
import { FAIL_ON_ARGS } from './fail-on.js';
import { DATA_ARGS } from './log-place.js';
import { MEASURE_ARGS } from './measure-options.js';
import { PASS_ARGS } from './pass-options.js';
import { PDF_ARGS, UNITS_ARGS } from './report-options.js';
import { STABILISE_ARGS } from './stabilise-options.js';

/** The options of many clips at once. */
const MANY_ARGS = {
  recursive: { type: 'boolean', description: 'of a folder: measure the clips of all folders below it, too' },
  watch: {
    type: 'boolean',
    description: 'of a folder: go on measuring clips as they come, until interrupted',
  },
  again: {
    type: 'boolean',
    description: 'measure clips of a folder that the log has with these settings, too',
  },
  jobs: {
    type: 'string',
    valueHint: '2',
    description: 'clips of a folder that are measured at once (one for each core, as far as memory goes)',
  },
} as const satisfies ArgsDef;

/** The command's positional words and options. */
export const MEASURE_COMMAND_ARGS = {
  clip: {
    type: 'positional',
    required: true,
    valueHint: 'pass.mp4',
    description: 'clip of a test pass, or folder of clips; several may be given',
  },
  ...MEASURE_ARGS,
  ...DELIVERY_ARGS,
  ...STABILISE_ARGS,
  ...PASS_ARGS,
  ...UNITS_ARGS,
  ...PDF_ARGS,
  'out-dir': { type: 'string', valueHint: 'reports', description: 'folder for the report folders' },
  ...MANY_ARGS,
  ...FAIL_ON_ARGS,
  json: { type: 'boolean', description: 'print the run document and nothing else on standard output' },
  quiet: { type: 'boolean', description: 'no progress' },
  unlogged: { type: 'boolean', description: 'do not keep the run in the log' },
  ...DATA_ARGS,
} as const satisfies ArgsDef;

/** Type of the above, for `ParsedArgs`. */
export type MeasureCommandArgs = typeof MEASURE_COMMAND_ARGS;
