/**
 * JSON Schema (draft 2020-12) read apart from zod: what breaks a schema in a value, and arbitrary values that fit one. Knows the keywords
 * that our exported schemas use, and stops at any other.
 */
import fc from 'fast-check';
import { evenly } from './evenly.js';

/** A schema as JSON. */
export type JsonSchema = Readonly<Record<string, unknown>>;

/** Say nothing about values. */
const REMARKS = new Set(['$schema', 'description', 'default']);
const KNOWN = new Set([
  ...['type', 'const', 'enum', 'anyOf', 'properties', 'required', 'additionalProperties', 'propertyNames'],
  ...['prefixItems', 'items', 'minItems', 'maxItems', 'minLength', 'maxLength'],
  ...['minimum', 'maximum', 'exclusiveMinimum', 'exclusiveMaximum'],
]);

function checkKeywords(schema: JsonSchema): void {
  for (const keyword of Object.keys(schema))
    if (!KNOWN.has(keyword) && !REMARKS.has(keyword))
      throw new Error(`no reading for the keyword ${keyword}`);
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** Whether a value is of the type that a schema names, or of one of them. */
function isOfType(value: unknown, type: unknown): boolean {
  if (Array.isArray(type)) return type.some((one) => isOfType(value, one));
  if (type === undefined) return true;
  if (type === 'integer') return Number.isInteger(value);
  if (value === null) return type === 'null';
  return type === (Array.isArray(value) ? 'array' : typeof value);
}

/** The places of a value that a schema does not allow, as paths with points; the value itself is "". */
export function faultsOf(schema: JsonSchema, value: unknown, at = ''): string[] {
  checkKeywords(schema);
  const fits = (): boolean => {
    const { type, const: only, enum: words, anyOf } = schema;
    if (!isOfType(value, type)) return false;
    if (only !== undefined && value !== only) return false;
    if (Array.isArray(words) && !words.includes(value)) return false;
    if (Array.isArray(anyOf) && !anyOf.some((one) => faultsOf(one as JsonSchema, value).length === 0))
      return false;
    return true;
  };
  if (!fits()) return [at];
  if (typeof value === 'number' && !inBounds(schema, value)) return [at];
  if (typeof value === 'string') return lengthFits(schema, [...value].length, 'Length') ? [] : [at];
  const inner = (name: string | number): string => (at === '' ? String(name) : `${at}.${name}`);
  if (Array.isArray(value)) {
    if (!lengthFits(schema, value.length, 'Items')) return [at];
    const first = (schema['prefixItems'] ?? []) as JsonSchema[];
    return value.flatMap((item, i) => {
      const of: unknown = first[i] ?? schema['items'];
      if (of === false) return [inner(i)];
      return isRecord(of) ? faultsOf(of, item, inner(i)) : [];
    });
  }
  return isRecord(value) ? faultsOfFields(schema, value, inner) : [];
}

function faultsOfFields(
  schema: JsonSchema,
  value: Record<string, unknown>,
  inner: (name: string) => string,
): string[] {
  const properties = (schema['properties'] ?? {}) as Record<string, JsonSchema>;
  const missing = ((schema['required'] ?? []) as string[]).filter((name) => !Object.hasOwn(value, name));
  const faults = Object.entries(value).flatMap(([name, field]) => {
    if (Object.hasOwn(properties, name)) return faultsOf(properties[name], field, inner(name));
    const { additionalProperties: others, propertyNames: names } = schema;
    if (others === false || (isRecord(names) && faultsOf(names, name).length > 0)) return [inner(name)];
    return isRecord(others) ? faultsOf(others, field, inner(name)) : [];
  });
  return [...missing.map(inner), ...faults];
}

function inBounds(schema: JsonSchema, value: number): boolean {
  const bound = (name: string, otherwise: number): number =>
    (schema[name] as number | undefined) ?? otherwise;
  return (
    value >= bound('minimum', -Infinity) &&
    value <= bound('maximum', Infinity) &&
    value > bound('exclusiveMinimum', -Infinity) &&
    value < bound('exclusiveMaximum', Infinity)
  );
}

function lengthFits(schema: JsonSchema, length: number, of: 'Length' | 'Items'): boolean {
  const { [`min${of}`]: least = 0, [`max${of}`]: most = Infinity } = schema as Record<string, number>;
  return length >= least && length <= most;
}

/** The schema of what a reader takes: as that of what is written, but a field that has a default may be missing. */
export function asRead(schema: JsonSchema): JsonSchema {
  const inner = (value: unknown): unknown => {
    if (Array.isArray(value)) return value.map(inner);
    return isRecord(value) ? asRead(value) : value;
  };
  const copy = Object.fromEntries(Object.entries(schema).map(([keyword, value]) => [keyword, inner(value)]));
  const { properties, required } = schema;
  if (!isRecord(properties) || !Array.isArray(required)) return copy;
  return {
    ...copy,
    required: required.filter((name: string) => !('default' in (properties[name] as JsonSchema))),
  };
}

/** Lists of a schema without a length get up to so many entries. */
const MOST_ITEMS = 2;

/** Values that fit a schema, each optional field there or not; texts have no blanks around them and numbers are never -0. */
export function arbitraryOf(schema: JsonSchema): fc.Arbitrary<unknown> {
  checkKeywords(schema);
  const { type, const: only, enum: words, anyOf } = schema;
  if (only !== undefined) return fc.constant(only);
  if (Array.isArray(words)) return fc.constantFrom(...(words as unknown[]));
  if (Array.isArray(anyOf)) return fc.oneof(...anyOf.map((one) => arbitraryOf(one as JsonSchema)));
  if (Array.isArray(type))
    return fc.oneof(...type.map((one: unknown) => arbitraryOf({ ...schema, type: one })));
  switch (type) {
    case 'null':
      return fc.constant(null);
    case 'boolean':
      return fc.boolean();
    case 'integer':
    case 'number':
      return numberOf(schema, type === 'integer');
    case 'string':
      return textOf(schema);
    case 'array':
      return listOf(schema);
    case 'object':
      return objectOf(schema);
    default:
      throw new Error(`no values for the type ${String(type)}`);
  }
}

function numberOf(schema: JsonSchema, whole: boolean): fc.Arbitrary<number> {
  const {
    exclusiveMinimum,
    minimum = exclusiveMinimum,
    maximum,
  } = schema as Record<string, number | undefined>;
  if (whole)
    return fc.integer({
      min: Math.max(-(2 ** 31), minimum ?? -1000),
      max: Math.min(2 ** 31 - 1, maximum ?? 1000),
    });
  const [min, max] = [minimum ?? -1e12, maximum ?? 1e12];
  const double = fc.double({ min, max, noNaN: true, minExcluded: exclusiveMinimum !== undefined });
  return fc.oneof(double, evenly(min + (max - min) / 1000, max)).map((value) => (value === 0 ? 0 : value));
}

function textOf(schema: JsonSchema): fc.Arbitrary<string> {
  const { minLength = 0, maxLength = 24 } = schema as Record<string, number>;
  return fc
    .string({ unit: 'binary', maxLength: Math.min(24, maxLength) })
    .map((text) => text.trim())
    .filter((text) => text.length >= minLength);
}

function listOf(schema: JsonSchema): fc.Arbitrary<unknown[]> {
  const { prefixItems, items, maxItems = MOST_ITEMS } = schema;
  if (Array.isArray(prefixItems))
    return fc.tuple(...prefixItems.map((one) => arbitraryOf(one as JsonSchema)));
  return fc.array(arbitraryOf(items as JsonSchema), { maxLength: Math.min(MOST_ITEMS, maxItems as number) });
}

function objectOf(schema: JsonSchema): fc.Arbitrary<unknown> {
  const { properties, required = [], propertyNames, additionalProperties } = schema;
  if (isRecord(properties)) {
    const fields = Object.fromEntries(
      Object.entries(properties).map(([name, field]) => [name, arbitraryOf(field as JsonSchema)]),
    );
    // A record comes without a prototype, which a file never has.
    return fc.record(fields, { requiredKeys: required as string[] }).map((fieldsOf) => ({ ...fieldsOf }));
  }
  const names = isRecord(propertyNames) ? arbitraryOf(propertyNames) : fc.string({ maxLength: 8 });
  return fc
    .dictionary(names as fc.Arbitrary<string>, arbitraryOf(additionalProperties as JsonSchema), {
      maxKeys: MOST_ITEMS,
    })
    .map((entries) => ({ ...entries }));
}
