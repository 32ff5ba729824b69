/** The JSON Schemas beside the data: a reader who has nothing else finds what every field means. */
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import {
  comparisonJsonSchema,
  deliverySchema,
  passSheetSchema,
  rigSchema,
  runJsonSchema,
  seriesJsonSchema,
  whatIfSchema,
} from '../../src/run/index.js';

const SCHEMAS: readonly (readonly [name: string, schema: unknown])[] = [
  ['run', runJsonSchema()],
  ['series', seriesJsonSchema()],
  ['comparison', comparisonJsonSchema()],
  ['what-if', z.toJSONSchema(whatIfSchema)],
  ['rig', z.toJSONSchema(rigSchema)],
  ['delivery', z.toJSONSchema(deliverySchema)],
  ['pass', z.toJSONSchema(passSheetSchema)],
];

/** Shorter texts say nothing. */
const LEAST_LETTERS = 10;

/** A field of a schema: where it stands, its name, what is said of it, and its own schema. */
interface Field {
  readonly path: string;
  readonly name: string;
  readonly says: string;
  readonly schema: Record<string, unknown>;
}

function isObject(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** Every property at any depth: of objects, of the items of lists and tuples, of records, of either side of a choice. */
function fieldsOf(schema: unknown, path: string): Field[] {
  if (Array.isArray(schema)) return schema.flatMap((one) => fieldsOf(one, path));
  if (!isObject(schema)) return [];
  return Object.entries(schema).flatMap(([key, value]) => {
    if (key !== 'properties' || !isObject(value)) return fieldsOf(value, path);
    return Object.entries(value).flatMap(([name, field]) => {
      if (!isObject(field)) throw new Error(`${path}.${name} is no schema`);
      const { description } = field;
      const says = typeof description === 'string' ? description : '';
      return [{ path: `${path}.${name}`, name, says, schema: field }, ...fieldsOf(field, `${path}.${name}`)];
    });
  });
}

/** A field's schema and, where it is a choice, each side of it. */
function sidesOf({ schema }: Field): Record<string, unknown>[] {
  return [schema, ...(Array.isArray(schema.anyOf) ? schema.anyOf.filter(isObject) : [])];
}

/** The words that a field may hold. */
function wordsOf(field: Field): string[] {
  return sidesOf(field).flatMap(({ enum: words }) =>
    Array.isArray(words) ? words.filter((word) => typeof word === 'string') : [],
  );
}

function mayBeNull(field: Field): boolean {
  return sidesOf(field).some(({ type }) => [type].flat().includes('null'));
}

/** Letters and digits alone, small: "Frame rate" and frameRate are one. */
function lettersOf(text: string): string {
  return text.toLowerCase().replace(/[^a-z0-9]/g, '');
}

describe.each(SCHEMAS)('The JSON Schema %s', (name, schema) => {
  const fields = fieldsOf(schema, name);

  it('says of every field what it is', () => {
    expect(fields.length).toBeGreaterThan(5);
    expect(fields.filter(({ says }) => says === '').map(({ path }) => path)).toEqual([]);
  });

  it('says more than the name of the field, and ends its sentences', () => {
    const poor = fields.filter(
      ({ name: own, says }) =>
        says.length < LEAST_LETTERS || lettersOf(says) === lettersOf(own) || !says.endsWith('.'),
    );
    expect(poor.map(({ path, says }) => `${path}: ${says}`)).toEqual([]);
  });

  it('explains every word that a field may hold', () => {
    const unexplained = fields.flatMap((field) =>
      wordsOf(field).flatMap((word) => (field.says.includes(word) ? [] : [`${field.path}: ${word}`])),
    );
    expect(unexplained).toEqual([]);
  });

  it('says what null means wherever it may stand', () => {
    const untold = fields.filter((field) => mayBeNull(field) && !/\bnull\b/i.test(field.says));
    expect(untold.map(({ path, says }) => `${path}: ${says}`)).toEqual([]);
  });
});

describe('The axes of a run', () => {
  const runFields = fieldsOf(runJsonSchema(), 'run');

  it.each([
    ['motion.angular.pan', '+ to the right'],
    ['motion.angular.tilt', '+ up'],
    ['motion.angular.roll', '+ clockwise seen from behind'],
    ['motion.translational.lateral', '+ to the right'],
    ['motion.translational.vertical', '+ up'],
    ['motion.translational.axial', '+ forward'],
  ])('%s is described with its sign', (path, sign) => {
    const field = runFields.find((one) => one.path === `run.${path}`);
    expect(field?.says).toContain(sign);
  });
});
