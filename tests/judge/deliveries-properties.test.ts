/** What holds for a file of deliveries whatever stands in it: it lays its entries over the built-in ones, or is refused in one sentence. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  DELIVERY_PRESETS,
  deliveriesFile,
  deliveryByName,
  parseDeliveries,
  presetName,
  type DeliveryPresets,
} from '../../src/judge/index.js';
import { TrundleError, deliverySchema } from '../../src/run/index.js';
import { HOSTILE_NAMES } from '../support/any-rig.js';
import { evenly } from '../support/evenly.js';

const FIELDS = Object.keys(deliverySchema.shape).filter((field) => field !== 'name');

const preset = fc
  .record(
    {
      widthPx: fc.integer({ min: 16, max: 16384 }),
      heightPx: fc.integer({ min: 16, max: 16384 }),
      maxCropPercent: evenly(0, 90).map((value) => value + 0),
      maxResidualPx: evenly(1e-6, 1000),
      viewingDistanceHeights: evenly(0.3, 30),
    },
    { requiredKeys: [] },
  )
  .map((entry) => ({ ...entry }));
const name = fc.oneof(
  fc.stringMatching(/^[a-z][a-z ]{0,20}[a-z]$/),
  fc.constantFrom(...Object.keys(DELIVERY_PRESETS), 'WEB-hd', ...HOSTILE_NAMES),
);

/** The table, or the sentence of the refusal. Any other failure goes on. */
function read(text: string): DeliveryPresets | string {
  try {
    return parseDeliveries(text, 'd.json');
  } catch (error) {
    if (!(error instanceof TrundleError)) throw error;
    expect(error.code).toBe('delivery-invalid');
    expect(error.message).toMatch(/"d\.json".*\.$/s);
    expect(error.message.length).toBeLessThan(600);
    return error.message;
  }
}

describe('a file of deliveries', () => {
  it('of any JSON value or text is read or refused, and keeps every built-in name', () => {
    const any = fc.oneof(
      fc.jsonValue({ maxDepth: 3 }).map((value) => JSON.stringify(value)),
      fc
        .dictionary(
          name,
          fc.oneof(
            preset,
            fc.jsonValue(),
            fc.dictionary(
              fc.constantFrom(...FIELDS, ...HOSTILE_NAMES),
              fc.oneof(fc.double(), fc.jsonValue()),
            ),
          ),
        )
        .map((value) => JSON.stringify(value)),
      fc.string({ unit: 'binary' }),
      fc.constantFrom('['.repeat(20_000), `{"a":{"widthPx":${'['.repeat(20_000)}1${']'.repeat(20_000)}}}`),
    );
    fc.assert(
      fc.property(any, (text) => {
        const table = read(text);
        if (typeof table !== 'string')
          expect(Object.keys(table)).toEqual(expect.arrayContaining(Object.keys(DELIVERY_PRESETS)));
        expect(Object.keys(Object.prototype)).toEqual([]);
      }),
      { seed: 81, numRuns: 1000 },
    );
  });

  it('gives each name what was written for it, and leaves the others as they are', () => {
    fc.assert(
      fc.property(name, preset, (own, entry) => {
        const table = read(JSON.stringify(Object.fromEntries([[own, entry]])));
        if (typeof table === 'string') throw new Error(table);
        const known = presetName(own) ?? own;
        expect(Object.hasOwn(table, known)).toBe(true);
        expect(table[known]).toMatchObject(entry);
        for (const [other, builtIn] of Object.entries(DELIVERY_PRESETS))
          if (other !== known) expect(table[other]).toEqual(builtIn);
        // Whoever names it, in whatever case, gets it.
        expect(deliveryByName({ name: ` ${own.toUpperCase()} ` }, table)).toMatchObject({
          ...entry,
          name: known,
        });
      }),
      { seed: 82, numRuns: 400 },
    );
  });

  it('of the built-in ones gives the built-in ones, and of a table that table', () => {
    expect(read(deliveriesFile())).toEqual(DELIVERY_PRESETS);
    fc.assert(
      fc.property(name, preset, (own, entry) => {
        const table = read(JSON.stringify(Object.fromEntries([[own, entry]])));
        expect(read(JSON.stringify(table))).toEqual(table);
      }),
      { seed: 83, numRuns: 200 },
    );
  });
});
