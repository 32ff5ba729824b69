/** JSON that keeps typed arrays and every number. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fromTypedJson, toTypedJson } from '../src/typed-json.js';

describe('JSON with typed arrays', () => {
  it('gives back what was written, to the bit', () => {
    const arrays = fc.oneof(
      fc.float64Array(),
      fc.float32Array(),
      fc.int32Array(),
      fc.uint8Array(),
      fc.double(),
      fc.string(),
      fc.constant(null),
    );
    fc.assert(
      fc.property(fc.dictionary(fc.stringMatching(/^[a-z]+$/), fc.array(arrays)), (value) => {
        expect(fromTypedJson(toTypedJson(value))).toEqual({ ...value });
      }),
      { seed: 7, numRuns: 200 },
    );
  });

  it('keeps a view of a larger array as what is in view', () => {
    const view = Float64Array.of(1, 2, 3, 4).subarray(1, 3);
    expect(fromTypedJson(toTypedJson({ view }))).toEqual({ view: Float64Array.of(2, 3) });
  });

  it('refuses arrays that it has no word for, in either direction', () => {
    expect(() => toTypedJson({ wide: new BigInt64Array(1) })).toThrow('BigInt64Array');
    expect(() => fromTypedJson('{"$array":"constructor","base64":""}')).toThrow();
    expect(() => fromTypedJson('{"$array":"Float64Array","base64":"AAA="}')).toThrow(RangeError);
  });
});
