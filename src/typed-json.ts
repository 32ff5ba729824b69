/** JSON that keeps typed arrays bit for bit, and numbers that JSON has no word for: NaN and the infinities. */

const ARRAYS = { Float64Array, Float32Array, Int32Array, Uint8Array } as const;

/** What stands for what JSON cannot say. */
type Stand =
  | { readonly $array: keyof typeof ARRAYS; readonly base64: string }
  | { readonly $number: 'NaN' | 'Infinity' | '-Infinity' | '-0' };

/**
 * Writes a value of records, lists, texts, numbers and typed arrays of 64 or 32-bit floats, 32-bit integers and bytes.
 *
 * @throws TypeError on a typed array of another kind
 */
export function toTypedJson(value: unknown): string {
  return JSON.stringify(value, (_name, part: unknown) => {
    if (typeof part === 'number' && (!Number.isFinite(part) || Object.is(part, -0)))
      return { $number: Object.is(part, -0) ? '-0' : String(part) };
    if (!ArrayBuffer.isView(part)) return part;
    const kind = Object.entries(ARRAYS).find(([, array]) => part.constructor === array)?.[0];
    if (kind === undefined) throw new TypeError(`no stand for a ${part.constructor.name}`);
    const bytes = Buffer.from(part.buffer, part.byteOffset, part.byteLength);
    return { $array: kind, base64: bytes.toString('base64') };
  });
}

/** Reads what `toTypedJson` wrote. @throws SyntaxError, TypeError or RangeError on what is damaged */
export function fromTypedJson(text: string): unknown {
  return JSON.parse(text, (_name, part: unknown) => {
    if (typeof part !== 'object' || part === null) return part;
    if ('$number' in part) return Number(part.$number);
    if (!('$array' in part)) return part;
    const { $array, base64 } = part as Extract<Stand, { $array: string }>;
    // A copy: pooled bytes lie at any place, and wide numbers cannot.
    const bytes = Uint8Array.from(Buffer.from(base64, 'base64'));
    if (!Object.hasOwn(ARRAYS, $array)) throw new TypeError(`no array of the kind "${$array}"`);
    return new ARRAYS[$array](bytes.buffer);
  });
}
