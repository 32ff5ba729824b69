/** The options that name a delivery, and the table of names that they are looked up in. */
import type { ArgsDef, ParsedArgs } from 'citty';
import type { DeliveryPresets } from '../judge/index.js';
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
 * What names of deliveries stand for: read when a name is looked up, or at once where a file of names is given.
 * @throws TrundleError `delivery-unreadable`, `delivery-invalid`; the function given does, too
 */
export function presetsFor({ deliveries, 'data-dir': dataDir }: DeliveryValues): () => DeliveryPresets {
  const read = (): DeliveryPresets => knownDeliveries(deliveries, dataDir).presets;
  if (deliveries === undefined) return read;
  const presets = read();
  return () => presets;
}
