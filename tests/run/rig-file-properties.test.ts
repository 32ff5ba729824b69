/** What holds for a rig file whatever stands in it: it is read, or refused in one of our sentences, and nothing else happens. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  TrundleError,
  deliverySchema,
  lensDistortionSchema,
  nearestName,
  parseRigFile,
  passSheetSchema,
  rigSchema,
  type RigFile,
} from '../../src/run/index.js';
import { HOSTILE_NAMES, rigFile } from '../support/any-rig.js';

const NAMES = [rigSchema, deliverySchema, passSheetSchema].flatMap(({ shape }) => Object.keys(shape));

/** What came of a text: the rig, or the sentence of the refusal. Any other failure goes on. */
function read(text: string): RigFile | string {
  try {
    return parseRigFile(text, 'rig.json');
  } catch (error) {
    if (!(error instanceof TrundleError)) throw error;
    expect(error.code).toBe('rig-invalid');
    expect(error.message).toContain('"rig.json"');
    expect(error.message.length).toBeLessThan(600);
    expect(error.message).not.toMatch(/\bat .*\.ts|undefined|\[object|NaN/);
    return error.message;
  }
}

/** A whole rig file is what was read, or a sentence ended by a full stop. */
function expectReadOrRefused(text: string): void {
  const result = read(text);
  if (typeof result === 'string') expect(result).toMatch(/\.$/);
  else expect(Object.keys(result).sort()).toEqual(expect.arrayContaining(['delivery', 'pass', 'rig']));
}

describe('a rig file', () => {
  it('comes back as it was when it is written and read again, under its groups or at the top', () => {
    fc.assert(
      fc.property(rigFile, (file) => {
        expect(read(JSON.stringify(file))).toEqual(file);
        const { rig, delivery, pass, units } = file;
        const flat = { ...rig, ...delivery, pass, ...(units !== undefined && { units }) };
        expect(read(JSON.stringify(flat, null, 1))).toEqual(file);
        expect(read(JSON.stringify(read(JSON.stringify(file))))).toEqual(file);
      }),
      { seed: 61, numRuns: 300 },
    );
  });

  it('of any JSON value at all is read or refused', () => {
    const any = fc.oneof(
      fc.jsonValue({ maxDepth: 4 }),
      fc.dictionary(fc.constantFrom('rig', 'delivery', 'pass', 'units', ...HOSTILE_NAMES), fc.jsonValue()),
      fc.dictionary(
        fc.oneof({ weight: 20, arbitrary: fc.constantFrom(...NAMES) }, fc.constantFrom(...HOSTILE_NAMES)),
        fc.oneof(fc.double(), fc.string(), fc.jsonValue(), fc.integer({ min: -5, max: 5 })),
        { maxKeys: 4 },
      ),
    );
    fc.assert(
      fc.property(any, (value) => expectReadOrRefused(JSON.stringify(value))),
      { seed: 62, numRuns: 1500 },
    );
  });

  it('of any text at all is read or refused: cut short, with signs put in or taken out', () => {
    fc.assert(
      fc.property(
        rigFile,
        fc.nat(),
        fc.nat(6),
        fc.string({ unit: 'binary', maxLength: 4 }),
        (file, at, gone, put) => {
          const text = JSON.stringify(file, null, 1);
          const place = at % text.length;
          expectReadOrRefused(text.slice(0, place));
          expectReadOrRefused(text.slice(0, place) + put + text.slice(place + gone));
        },
      ),
      { seed: 63, numRuns: 400 },
    );
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), (text) => expectReadOrRefused(text)),
      { seed: 64, numRuns: 400 },
    );
  });

  it('nested by the ten thousand is refused', () => {
    const deep = (open: string, close: string): string => open.repeat(20_000) + '1' + close.repeat(20_000);
    for (const text of [
      deep('[', ']'),
      deep('{"rig":', '}'),
      `{"focalLengthMm":${deep('[', ']')}}`,
      `{"pass":{"tags":${deep('{"a":', '}')}}}`,
      '{"rig":'.repeat(20_000),
    ])
      expect(typeof read(text)).toBe('string');
  });

  it('with a name that is a few letters off is refused with the right one', () => {
    const typo = fc.constantFrom(...NAMES).chain((name) =>
      fc
        .tuple(fc.nat(name.length - 1), fc.constantFrom('swap', 'drop', 'double', 'case'))
        .map(([at, how]) => {
          const [a, b] = [name.charAt(at), name.charAt(at + 1)];
          if (how === 'swap') return name.slice(0, at) + b + a + name.slice(at + 2);
          if (how === 'drop') return name.slice(0, at) + name.slice(at + 1);
          if (how === 'double') return name.slice(0, at) + a + a + b + name.slice(at + 2);
          return name.toUpperCase();
        })
        .map((wrong) => ({ name, wrong })),
    );
    fc.assert(
      fc.property(typo, ({ name, wrong }) => {
        fc.pre(!NAMES.includes(wrong) && wrong !== '');
        const inPass = name in passSheetSchema.shape;
        const sentence = read(
          JSON.stringify(inPass && name !== 'name' ? { pass: { [wrong]: 1 } } : { [wrong]: 1 }),
        );
        expect(sentence).toContain(`unknown name "${wrong}"; the nearest known one is "`);
        // One slip from a long name cannot be nearer to another.
        if (name.length > 6) expect(sentence).toContain(`nearest known one is "${name}"`);
      }),
      { seed: 65, numRuns: 400 },
    );
  });

  it('names the nearest term of a lens too, and shows the value that was wrong, not all around it', () => {
    fc.assert(
      fc.property(
        fc.stringMatching(/^[a-z_]{1,12}$/),
        fc.double({ noDefaultInfinity: true }),
        (name, term) => {
          fc.pre(!(name in lensDistortionSchema.shape));
          const sentence = read(JSON.stringify({ lensDistortion: { k1: 0.1, [name]: term } }));
          const nearest = nearestName(name, Object.keys(lensDistortionSchema.shape));
          expect(sentence).toBe(
            `"lensDistortion" in "rig.json" has an unknown name "${name}"; the nearest known one is "${nearest}".`,
          );
        },
      ),
      { seed: 66, numRuns: 100 },
    );
    expect(read('{"lensDistortion":{"k1":"-0.1","k2":0.3}}')).toBe(
      '"lensDistortion.k1" in "rig.json" is "-0.1"; it must be a number without its unit.',
    );
    expect(read('{"machinesHz":[31,1e999]}')).toContain('"machinesHz.1" in "rig.json" is Infinity;');
    expect(read('{"pass":{"floor":" "}}')).toContain('it must be at least 1 letter.');
    expect(read(JSON.stringify({ pass: { floor: 'x'.repeat(201) } }))).toContain(
      'it must be at most 200 letters.',
    );
  });

  it('takes terms of a lens that are not there for nought', () => {
    const terms = Object.keys(lensDistortionSchema.shape);
    fc.assert(
      fc.property(fc.subarray(terms), (given) => {
        const lensDistortion = Object.fromEntries(given.map((term) => [term, 0.25]));
        const wanted = Object.fromEntries(terms.map((term) => [term, given.includes(term) ? 0.25 : 0]));
        expect(read(JSON.stringify({ lensDistortion }))).toMatchObject({ rig: { lensDistortion: wanted } });
      }),
      { seed: 69, numRuns: 40 },
    );
  });

  it('that says one thing in two places is refused', () => {
    fc.assert(
      fc.property(rigFile, (file) => {
        for (const group of ['rig', 'delivery'] as const)
          for (const [name, value] of Object.entries<unknown>(file[group]))
            expect(read(JSON.stringify({ ...file, [name]: value }))).toBe(
              `The rig file "rig.json" has "${name}" twice; leave one of them.`,
            );
      }),
      { seed: 67, numRuns: 60 },
    );
  });

  it('changes nothing of the objects of the program, whatever its names', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...HOSTILE_NAMES),
        fc.constantFrom('', 'rig', 'delivery', 'pass', 'lensDistortion'),
        fc.constantFrom('{"focalLengthMm":35,"polluted":1}', '1', 'null', '[]'),
        (name, group, value) => {
          const inner = `{${JSON.stringify(name)}:${value}}`;
          const result = read(group === '' ? inner : `{"${group}":${inner}}`);
          expect(typeof result).toBe('string');
          expect(result).toContain(`unknown name "${name}"`);
          expect(({} as Record<string, unknown>)['polluted']).toBeUndefined();
          expect(Object.keys(Object.prototype)).toEqual([]);
        },
      ),
      { seed: 68, numRuns: 200 },
    );
  });
});
