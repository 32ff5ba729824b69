/** The delivery out of what was typed, completed from the table of names. */
import { deliveryByName, presetName, type DeliveryPresets } from '../judge/index.js';
import {
  TrundleError,
  asFigures,
  deliverySchema,
  nearestName,
  parsePercent,
  parseSizePx,
  withDecimalPoint,
  type Delivery,
} from '../run/index.js';
import { numberWith } from './figures-as-typed.js';
import { DELIVERY_SETTINGS, typed, type DeliverySetting, type Settings } from './names.js';
import type { SettingNaming } from './naming.js';
import { withinBounds } from './rig-settings.js';

/** What names stand for, and how sentences name settings. */
export interface DeliveryReading {
  /** A function is called only when a delivery is named. */
  readonly presets: DeliveryPresets | (() => DeliveryPresets);
  readonly naming: SettingNaming;
}

const READERS: Readonly<Record<DeliverySetting, (text: string) => Readonly<Record<string, unknown>>>> = {
  for: (name) => ({ name }),
  'delivery-name': (name) => ({ name }),
  deliver: size,
  'max-crop': (text) => ({ maxCropPercent: parsePercent(text) }),
  'max-residual': (text) => ({ maxResidualPx: numberWith(text, 'px') }),
  viewing: (text) => ({ viewingDistanceHeights: heights(text) }),
};

/**
 * The delivery that was typed over that of a rig file, with everything filled in where its name stands in the table.
 *
 * A delivery that was typed by name is meant as a whole: that of the file does not mix with it. A name of the crew's own
 * (`delivery-name`, or the name in a file) fills in nothing.
 *
 * @param file delivery of the rig file; empty when there is none
 * @throws TrundleError `argument-invalid` on a name or figure that will not do, `rig-invalid` on a bare name of one's own that is not
 * known
 */
export function deliveryOf(settings: Settings, file: Delivery, reading: DeliveryReading): Delivery {
  const wanted = typed(settings, 'for');
  const given: Record<string, unknown> = wanted === undefined ? { ...file } : {};
  // A size is meant as a whole: one side of it does not mix with the other side of the file.
  if (typed(settings, 'deliver') !== undefined) {
    delete given['widthPx'];
    delete given['heightPx'];
  }
  for (const name of DELIVERY_SETTINGS) {
    const text = typed(settings, name);
    if (text === undefined || name === 'for') continue;
    Object.assign(given, deliveryEntryOf(name, text, reading));
  }
  if (wanted !== undefined) Object.assign(given, deliveryEntryOf('for', wanted, reading));
  return completed(deliverySchema.parse(given), reading);
}

/** What one setting gives, within the bounds of a delivery. @throws TrundleError `argument-invalid` */
export function deliveryEntryOf(
  name: DeliverySetting,
  text: string,
  { presets, naming }: DeliveryReading,
): Delivery {
  if (name === 'for') {
    const table = tableOf(presets);
    if (presetName(text, table) === null)
      throw new TrundleError('argument-invalid', `${nearest(text, table)}.${naming.seeDeliveries}`);
  }
  return withinBounds<Delivery>(deliverySchema, READERS[name](text), name, text, naming);
}

function completed(given: Delivery, reading: DeliveryReading): Delivery {
  if (given.name === undefined) return given;
  const presets = tableOf(reading.presets);
  // With figures beside it the name is the crew's own; alone it says nothing.
  if (presetName(given.name, presets) === null && Object.keys(given).length === 1)
    throw new TrundleError(
      'rig-invalid',
      `${nearest(given.name, presets)}. Give figures beside a name of your own.`,
    );
  return deliveryByName(given, presets);
}

function tableOf(presets: DeliveryReading['presets']): DeliveryPresets {
  return typeof presets === 'function' ? presets() : presets;
}

function nearest(name: string, presets: DeliveryPresets): string {
  return `There is no delivery "${name}"; the nearest is "${nearestName(name, Object.keys(presets))}"`;
}

/** The settings that give back a delivery. @param presets what names stand for: any other name is the crew's own */
export function settingsOfDelivery(delivery: Delivery, presets: DeliveryPresets): Settings {
  const { name, widthPx, heightPx, maxCropPercent, maxResidualPx, viewingDistanceHeights } = delivery;
  const words: Record<string, string> = {};
  const known = name === undefined ? null : presetName(name, presets);
  if (known !== null) words['for'] = known;
  else if (name !== undefined) words['delivery-name'] = name;
  if (widthPx !== undefined || heightPx !== undefined) words['deliver'] = sizeWords(widthPx, heightPx);
  if (maxCropPercent !== undefined) words['max-crop'] = `${asFigures(maxCropPercent)}%`;
  if (maxResidualPx !== undefined) words['max-residual'] = `${asFigures(maxResidualPx)}px`;
  if (viewingDistanceHeights !== undefined) words['viewing'] = `${asFigures(viewingDistanceHeights)}H`;
  return words;
}

/** A size, or one side of it, which 16:9 completes: `1920x1080`, `2560 wide`, `1080 high`. */
function size(text: string): Readonly<Record<string, unknown>> {
  const side = /^(\d+)\s*(?:px\s*)?(wide|high)$/i.exec(text.trim());
  if (!side) return { ...parseSizePx(text) };
  return { [side[2].toLowerCase() === 'wide' ? 'widthPx' : 'heightPx']: Number(side[1]) };
}

function sizeWords(widthPx: number | undefined, heightPx: number | undefined): string {
  if (heightPx === undefined) return `${widthPx} wide`;
  return widthPx === undefined ? `${heightPx} high` : `${widthPx}x${heightPx}`;
}

/** A viewing distance in heights of the screen: `3.1H`. */
function heights(text: string): number {
  const match = /^(\d*\.?\d+)\s*(?:h|heights?)?$/i.exec(withDecimalPoint(text).trim());
  if (!match)
    throw new TrundleError(
      'argument-invalid',
      `"${text}" is not a viewing distance in heights of the screen, like 3.1H.`,
    );
  return Number(match[1]);
}
