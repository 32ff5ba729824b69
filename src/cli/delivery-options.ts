/** The options that name a delivery, and how it is completed from the table of names. */
import type { ArgsDef, ParsedArgs } from 'citty';
import { deliveryByName, presetName } from '../judge/index.js';
import { TrundleError, deliverySchema, nearestName, ruleOf, type Delivery } from '../run/index.js';
import { knownDeliveries } from './deliveries-file.js';
import type { DATA_ARGS } from './log-place.js';

/** Options of a delivery by name, shared by every command that judges. */
export const DELIVERY_ARGS = {
  for: {
    type: 'string',
    valueHint: '"web HD"',
    description: 'what it is for: a delivery by name, see "trundle deliveries"; figures given beside it win',
  },
  viewing: {
    type: 'string',
    valueHint: '3.1H',
    description: 'from how far the picture is watched, heights of the 16:9 screen',
  },
  deliveries: {
    type: 'string',
    valueHint: 'deliveries.json',
    description: 'file of named deliveries; deliveries.json of the data folder unless given',
  },
} as const satisfies ArgsDef;

/** The values of {@link DELIVERY_ARGS}, and the data folder where the command takes one. */
export type DeliveryValues = Partial<ParsedArgs<typeof DELIVERY_ARGS & typeof DATA_ARGS>>;

/**
 * Completes a delivery from the table of names. The table is read only when a name or a file of names is given.
 *
 * @param delivery what the other options and the rig file say; where `--for` is given its name does not count
 * @throws TrundleError `argument-invalid` on a name or distance that will not do, `rig-invalid` on a bare name of the rig file that
 * is not known, `delivery-unreadable`, `delivery-invalid`
 */
export function deliveryFromOptions(values: DeliveryValues, delivery: Delivery): Delivery {
  const { for: wanted, viewing, deliveries: file } = values;
  const given: Delivery = {
    ...delivery,
    ...(viewing === undefined ? {} : { viewingDistanceHeights: parseHeights(viewing) }),
    ...(wanted === undefined ? {} : { name: wanted }),
  };
  if (given.name === undefined && file === undefined) return given;
  const { presets } = knownDeliveries(file, values['data-dir']);
  const known = Object.keys(presets);
  const { name } = given;
  if (name !== undefined && presetName(name, presets) === null) {
    const nearest = `There is no delivery "${name}"; the nearest is "${nearestName(name, known)}"`;
    if (wanted !== undefined)
      throw new TrundleError('argument-invalid', `${nearest}. See trundle deliveries.`);
    // With figures beside it the name is the crew's own; alone it says nothing.
    if (Object.keys(given).length === 1)
      throw new TrundleError('rig-invalid', `${nearest}. Give figures beside a name of your own.`);
  }
  return deliveryByName(given, presets);
}

/**
 * Reads a viewing distance. @throws TrundleError `argument-invalid`
 * @example parseHeights('3.1H') // 3.1
 */
export function parseHeights(text: string): number {
  const match = /^(\d*\.?\d+)\s*(?:h|heights?)?$/i.exec(text.trim());
  if (!match)
    throw new TrundleError(
      'argument-invalid',
      `"${text}" is not a viewing distance in heights of the screen, like 3.1H.`,
    );
  const heights = Number(match[1]);
  const result = deliverySchema.safeParse({ viewingDistanceHeights: heights });
  if (!result.success)
    throw new TrundleError(
      'argument-invalid',
      `"${text}" will not do: viewingDistanceHeights must be ${ruleOf(result.error.issues[0])}.`,
    );
  return heights;
}
