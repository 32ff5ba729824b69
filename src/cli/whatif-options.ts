/** The options of `trundle whatif`, in words of the trade, and the wish that they make. */
import type { ArgsDef, ParsedArgs } from 'citty';
import type { WhatIfWish } from '../judge/index.js';
import { TrundleError } from '../run/index.js';
import { DELIVERY_ARGS, deliveryFromOptions } from './delivery-options.js';
import { FAIL_ON_ARGS } from './fail-on.js';
import { DATA_ARGS } from './log-place.js';
import { MEASURE_ARGS, rigFromOptions } from './measure-options.js';
import { STABILISE_ARGS, stabiliseWish } from './stabilise-options.js';

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
  ...FAIL_ON_ARGS,
  json: { type: 'boolean', description: 'print the answer as JSON and nothing else on standard output' },
  quiet: { type: 'boolean', description: 'no notes on standard error' },
  ...DATA_ARGS,
} as const satisfies ArgsDef;

/** Reads the options. @throws TrundleError `argument-invalid` naming the option and the value; codes of the deliveries */
export function whatIfWish(values: ParsedArgs<typeof WHATIF_ARGS>): WhatIfWish {
  const { rig, delivery: figures } = rigFromOptions(
    {
      focal: values.focal,
      sensor: values.sensor,
      shutter: values.shutter,
      speed: values.speed,
      wheelbase: values.wheelbase,
      'wheel-diameter': values['wheel-diameter'],
      deliver: values.deliver,
      'max-crop': values['max-crop'],
      'max-residual': values['max-residual'],
    },
    { rig: {}, delivery: {}, pass: {} },
  );
  const delivery = deliveryFromOptions(values, figures);
  const { mode, smoothingS, takeS } = stabiliseWish(values);
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
