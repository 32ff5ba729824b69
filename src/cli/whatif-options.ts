/** The options of `trundle whatif`, in words of the trade, and the wish that they make. */
import type { ArgsDef, ParsedArgs } from 'citty';
import type { WhatIfWish } from '../judge/index.js';
import { TrundleError } from '../run/index.js';
import { deliveryOf, rigOf, stabiliseOf } from '../settings/index.js';
import { DELIVERY_ARGS, presetsFor } from './delivery-options.js';
import { FAIL_ON_ARGS } from './fail-on.js';
import { DATA_ARGS } from './log-place.js';
import { MEASURE_ARGS } from './measure-options.js';
import { OPTION_NAMING, settingsGiven } from './option-naming.js';
import { PDF_ARGS } from './report-options.js';
import { STABILISE_ARGS } from './stabilise-options.js';

const { focal, sensor, shutter, speed, wheelbase, deliver } = MEASURE_ARGS;

/** What can be given. */
export const WHATIF_ARGS = {
  run: {
    type: 'positional',
    required: true,
    description: 'a measured run: its report folder, its run.json, or its number in the log (log:12)',
  },
  focal,
  sensor,
  ...DELIVERY_ARGS,
  deliver,
  'max-crop': MEASURE_ARGS['max-crop'],
  'max-residual': MEASURE_ARGS['max-residual'],
  speed,
  wheelbase,
  'wheel-diameter': MEASURE_ARGS['wheel-diameter'],
  tyre: { type: 'string', valueHint: 'soft', description: 'wheels of this kind: soft or hard' },
  shutter,
  ...STABILISE_ARGS,
  'out-dir': {
    type: 'string',
    valueHint: 'reports/clip',
    description: 'folder for whatif.html (that of the run)',
  },
  ...PDF_ARGS,
  ...FAIL_ON_ARGS,
  json: { type: 'boolean', description: 'print the answer as JSON and nothing else on standard output' },
  quiet: { type: 'boolean', description: 'no notes on standard error' },
  ...DATA_ARGS,
} as const satisfies ArgsDef;

/** Axles nearer or further apart than this are a slip of the unit, metres. */
const WHEELBASE_M = [0.05, 4] as const;

/** Reads the options. @throws TrundleError `argument-invalid` naming the option and the value; codes of the deliveries */
export function whatIfWish(values: ParsedArgs<typeof WHATIF_ARGS>): WhatIfWish {
  const settings = settingsGiven(values);
  const rig = rigOf(settings, {}, OPTION_NAMING);
  const [shortestM, longestM] = WHEELBASE_M;
  if (rig.wheelbaseM !== undefined && !(rig.wheelbaseM >= shortestM && rig.wheelbaseM <= longestM))
    throw new TrundleError(
      'argument-invalid',
      `"--wheelbase ${values.wheelbase}" must lie between ${100 * shortestM} cm and ${longestM} m.`,
    );
  const delivery = deliveryOf(settings, {}, { presets: presetsFor(values), naming: OPTION_NAMING });
  const { mode, smoothingS, takeS } = stabiliseOf(settings, OPTION_NAMING);
  return {
    focalLengthMm: rig.focalLengthMm,
    sensorWidthMm: rig.sensorWidthMm,
    delivery: Object.keys(delivery).length === 0 ? undefined : delivery,
    speedMps: rig.speedMps,
    wheelbaseM: rig.wheelbaseM,
    wheelDiameterM: rig.wheelDiameterM,
    tyre: tyreOf(values.tyre),
    shutterAngleDeg: rig.shutterAngleDeg,
    mode,
    smoothingS,
    takeS,
  };
}

function tyreOf(text: string | undefined): WhatIfWish['tyre'] {
  if (text === undefined) return undefined;
  const tyre = text.toLowerCase();
  if (tyre !== 'soft' && tyre !== 'hard')
    throw new TrundleError('argument-invalid', `"--tyre ${text}" must be soft or hard.`);
  return tyre;
}

/** A word that is a unit alone. */
const UNIT = /^(?:mm|cm|m|in|ft|m\/s|cm\/s|km\/h|deg|degrees|px|s|%|h)$/i;

/**
 * A unit that the shell has parted from its figure.
 *
 * @param words what stands beside the options
 * @throws TrundleError `argument-invalid` that says how to write it
 */
export function checkUnits(words: readonly string[], values: ParsedArgs<typeof WHATIF_ARGS>): void {
  const unit = words.find((word) => UNIT.test(word));
  if (unit === undefined) return;
  const bare = Object.values(values).find(
    (value): value is string => typeof value === 'string' && /^\d*[.,]?\d+$/.test(value),
  );
  if (bare !== undefined)
    throw new TrundleError(
      'argument-invalid',
      `"${unit}" stands apart from its figure; write ${bare}${unit} or quote it ("${bare} ${unit}").`,
    );
}
