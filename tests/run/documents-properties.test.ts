/**
 * Documents as files: whatever fits the schema comes back from a file as it was, and whatever does not is refused where it is wrong. The
 * exported JSON Schemas are read apart from zod, and must say the same.
 */
import fs from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  comparisonJsonSchema,
  comparisonSchema,
  parseRun,
  runJsonSchema,
  runSchema,
  runSeriesSchema,
  seriesJsonSchema,
} from '../../src/run/index.js';
import { HOSTILE_NAMES } from '../support/any-rig.js';
import { arbitraryOf, asRead, faultsOf, type JsonSchema } from '../support/json-schema.js';

/** What a schema of zod gives. */
interface Outcome {
  readonly success: boolean;
  readonly data?: unknown;
  readonly error?: {
    readonly issues: readonly { readonly code: string; readonly path: readonly PropertyKey[] }[];
  };
}

const FORMATS = [
  ['run', runJsonSchema() as JsonSchema, (value: unknown): Outcome => runSchema.safeParse(value)],
  ['series', seriesJsonSchema() as JsonSchema, (value: unknown): Outcome => runSeriesSchema.safeParse(value)],
  [
    'comparison',
    comparisonJsonSchema() as JsonSchema,
    (value: unknown): Outcome => comparisonSchema.safeParse(value),
  ],
] as const;

const SAMPLES = ['tiled-corridor', 'plywood-loft', 'aluminium-rail', 'dairy-hall-polished-concrete'].flatMap(
  (name) => (['run', 'series'] as const).map((kind) => [kind, `${name}/${kind}.json`] as const),
);

const throughFile = (value: unknown): unknown => JSON.parse(JSON.stringify(value));
const sample = (file: string): unknown =>
  JSON.parse(fs.readFileSync(new URL(`../../reports/${file}`, import.meta.url), 'utf8'));
const schemaOf = (kind: string): (typeof FORMATS)[number] => {
  const found = FORMATS.find(([name]) => name === kind);
  if (!found) throw new Error(kind);
  return found;
};

/** A place in a document: the object or list that holds it, its name there, and the path to it. */
interface Place {
  readonly holder: Record<string, unknown>;
  readonly name: string;
  readonly path: string;
}

function placesOf(value: unknown, path = ''): Place[] {
  if (typeof value !== 'object' || value === null) return [];
  return Object.keys(value).flatMap((name) => {
    const holder = value as Record<string, unknown>;
    const own = path === '' ? name : `${path}.${name}`;
    return [{ holder, name, path: own }, ...placesOf(holder[name], own)];
  });
}

/** What may go wrong in one place, by hand, by another program or on the way. */
const WRONGS: readonly (readonly [string, (place: Place) => void])[] = [
  [
    'gone',
    ({ holder, name }) => (Array.isArray(holder) ? holder.splice(Number(name), 1) : delete holder[name]),
  ],
  ['null', ({ holder, name }) => (holder[name] = null)],
  ['a text', ({ holder, name }) => (holder[name] = 'five')],
  ['an empty text', ({ holder, name }) => (holder[name] = '')],
  ['a number', ({ holder, name }) => (holder[name] = -7.5)],
  ['a number without end', ({ holder, name }) => (holder[name] = Infinity)],
  ['no number', ({ holder, name }) => (holder[name] = NaN)],
  ['true', ({ holder, name }) => (holder[name] = true)],
  ['an empty list', ({ holder, name }) => (holder[name] = [])],
  ['a list', ({ holder, name }) => (holder[name] = [holder[name]])],
  ['an object', ({ holder, name }) => (holder[name] = {})],
  ...HOSTILE_NAMES.map(
    (hostile) =>
      [
        `with ${hostile}`,
        ({ holder, name }: Place) => {
          const held = holder[name];
          if (typeof held !== 'object' || held === null || Array.isArray(held)) holder[name] = {};
          Object.defineProperty(holder[name], hostile, { value: 1, enumerable: true, configurable: true });
        },
      ] as const,
  ),
];

/** Zod reports a choice as a whole, and a name too many at the object that holds it: its path begins one of the faults, or goes on from one. */
function agrees(issuePath: readonly PropertyKey[], faults: readonly string[]): boolean {
  const path = issuePath.join('.');
  const begins = (a: string, b: string): boolean => a === '' || a === b || b.startsWith(`${a}.`);
  return faults.some((fault) => begins(path, fault) || begins(fault, path));
}

describe.each(FORMATS)('a %s document', (name, schema, read) => {
  const document = arbitraryOf(schema);
  const taken = asRead(schema);

  it('of any values comes back from a file as it was, and fits the JSON Schema that goes with it', () => {
    fc.assert(
      fc.property(document, (value) => {
        expect(faultsOf(schema, value)).toEqual([]);
        const result = read(throughFile(value));
        expect(result.error?.issues ?? []).toEqual([]);
        expect(result.data).toEqual(value);
        expect(throughFile(result.data)).toEqual(result.data);
      }),
      { seed: 141, numRuns: 40 },
    );
  });

  it('with something wrong in it is refused there, by both schemas or by neither', () => {
    let refused = 0;
    fc.assert(
      fc.property(document, fc.nat(), fc.constantFrom(...WRONGS), (value, at, [what, spoil]) => {
        const spoilt = structuredClone(value);
        const places = placesOf(spoilt);
        const place = places[at % places.length];
        spoil(place);
        const faults = faultsOf(taken, spoilt);
        const result = read(spoilt);
        // The schema of JSON sees no blanks; none are put in here. JSON knows no Infinity and no NaN: there both refuse.
        const finite = !/without end|no number/.test(what);
        if (finite) expect(result.success, `${name}: ${place.path} is ${what}`).toBe(faults.length === 0);
        else expect(result.success, `${name}: ${place.path} is ${what}`).toBe(false);
        for (const issue of result.error?.issues ?? []) {
          refused++;
          if (finite)
            expect(agrees(issue.path, faults), `${issue.path.join('.')} of ${faults.join()}`).toBe(true);
          expect(agrees(issue.path, [place.path]), `${issue.path.join('.')} of ${place.path}`).toBe(true);
        }
        expect(Object.keys(Object.prototype)).toEqual([]);
      }),
      { seed: 142, numRuns: 250 },
    );
    expect(refused).toBeGreaterThan(150);
  });

  it('is never any other JSON value', () => {
    fc.assert(
      fc.property(fc.jsonValue(), (value) => {
        expect(read(value).success).toBe(false);
      }),
      { seed: 143, numRuns: 150 },
    );
    expect(read(JSON.parse(`${'['.repeat(5000)}${']'.repeat(5000)}`)).success).toBe(false);
  });
});

describe.each(SAMPLES)('the sample %s %s', (kind, file) => {
  const [, schema, read] = schemaOf(kind);

  it('comes back as it stands in the file', () => {
    const value = sample(file);
    const result = read(value);
    expect(result.error?.issues ?? []).toEqual([]);
    expect(result.data).toEqual(value);
    expect(faultsOf(schema, value)).toEqual([]);
  });
});

// One place has them all; the others would only take time.
describe.each(SAMPLES.slice(0, 2))('a field of the sample %s %s', (kind, file) => {
  const [, schema, read] = schemaOf(kind);

  it('missing, and one too many, is refused wherever it is', () => {
    const value = sample(file);
    const taken = asRead(schema);
    // One of each kind: items of a list are alike.
    const kinds = new Map(
      placesOf(value).map((place) => [place.path.replace(/\.\d+(?=\.|$)/g, '.*'), place]),
    );
    expect(kinds.size).toBeGreaterThan(80);
    for (const { holder, name, path } of kinds.values()) {
      const own = holder[name];
      if (!Array.isArray(holder)) {
        delete holder[name];
        const without = read(value);
        expect(without.success, `without ${path}`).toBe(faultsOf(taken, value).length === 0);
        for (const issue of without.error?.issues ?? []) expect(agrees(issue.path, [path]), path).toBe(true);
      }
      if (typeof own === 'object' && own !== null && !Array.isArray(own)) {
        holder[name] = { ...own, oneTooMany: 1 };
        const [issue, ...none] = read(value).error?.issues ?? [];
        expect(none).toEqual([]);
        expect(issue?.path.join('.'), `one too many in ${path}`).toBe(path);
      }
      holder[name] = own;
    }
    expect(read(value).success).toBe(true);
  });
});

describe('a field of a real run', () => {
  const run = sample('tiled-corridor/run.json') as Record<string, unknown>;

  it.each(Object.keys(run))('%s, when it is missing or of another kind, is named by the refusal', (field) => {
    const { [field]: own, ...others } = run;
    // Units may be missing: they are metric then, as in documents from before there were units.
    if (field === 'units') expect(parseRun(others).units).toBe('metric');
    else expect(() => parseRun(others)).toThrow(`"${field}"`);
    expect(() => parseRun({ ...run, [field]: typeof own === 'number' ? 'x' : 5 })).toThrow(`"${field}"`);
  });

  it.each(['trundle-run/0', 'trundle-run/2', 'trundle-run/1 ', 'TRUNDLE-RUN/1', 'trundle-series/1', '', 1])(
    'schema "%s" is another format, whatever else fits',
    (schema) => expect(runSchema.safeParse({ ...run, schema }).success).toBe(false),
  );
});
