/** Reads a file of deliveries: JSON, name -> size, most crop, most shake left, viewing distance; and writes the built-in ones as one. */
import { TrundleError, deliverySchema, jsonFault, ruleOf, shownValue, unknownName } from '../run/index.js';
import { DELIVERY_PRESETS, presetName, type DeliveryPreset, type DeliveryPresets } from './presets.js';

const presetSchema = deliverySchema.omit({ name: true });
const FIELDS = Object.keys(presetSchema.shape);

/**
 * The built-in deliveries with those of the file laid over them: an entry of a known name overrides the fields that it gives, any
 * other is added at the end under its own name.
 *
 * @param where the file's name, for the sentence of a refusal
 * @throws TrundleError `delivery-invalid` naming entry, field, rule and the value got
 */
export function parseDeliveries(text: string, where: string): DeliveryPresets {
  const presets = new Map(Object.entries(DELIVERY_PRESETS));
  const given = new Set<string>();
  for (const [written, entry] of Object.entries(objectIn(text, where))) {
    const own = written.trim();
    if (!/[\p{L}\p{N}]/u.test(own) || own.length > 100)
      throw invalid(
        `The deliveries "${where}" hold the name "${written}"; a name needs a letter or a figure, and 100 at most.`,
      );
    const name = presetName(own, Object.fromEntries(presets)) ?? own;
    if (given.has(name)) throw invalid(`The deliveries "${where}" hold "${name}" twice.`);
    given.add(name);
    presets.set(name, laidOver(presets.get(name) ?? {}, checkedEntry(own, entry, where)));
  }
  return Object.fromEntries(presets);
}

/** A size is meant as a whole: one side of it does not mix with the other side of the built-in one. */
function laidOver({ widthPx, heightPx, ...rest }: DeliveryPreset, entry: DeliveryPreset): DeliveryPreset {
  const own = entry.widthPx !== undefined || entry.heightPx !== undefined;
  return { ...(own ? {} : { widthPx, heightPx }), ...rest, ...entry };
}

/** The built-in deliveries as the text of a file to edit. */
export function deliveriesFile(): string {
  return `${JSON.stringify(DELIVERY_PRESETS, null, 2)}\n`;
}

function objectIn(text: string, where: string): Record<string, unknown> {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    throw invalid(`The deliveries "${where}" are not JSON: ${jsonFault(text)}.`);
  }
  if (!isObject(value)) throw invalid(`The deliveries "${where}" must be one JSON object, name by name.`);
  return value;
}

function checkedEntry(name: string, entry: unknown, where: string): DeliveryPreset {
  if (!isObject(entry))
    throw invalid(`The delivery "${name}" in "${where}" must be an object with ${FIELDS.join(', ')}.`);
  for (const field of Object.keys(entry))
    if (!FIELDS.includes(field))
      throw invalid(`The delivery "${name}" in "${where}" ${unknownName(field, FIELDS)}`);
  const result = presetSchema.safeParse(entry);
  if (result.success) return result.data;
  const fault = result.error.issues[0];
  const field = fault.path.join('.');
  throw invalid(
    `"${field}" of the delivery "${name}" in "${where}" is ${shownValue(entry[field])}; it must be ${ruleOf(fault)}.`,
  );
}

function isObject(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function invalid(message: string): TrundleError {
  return new TrundleError('delivery-invalid', message);
}
