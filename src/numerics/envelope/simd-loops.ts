/** The compiled loops of loops.as.ts, with memory of their own that grows as needed; one for each thread. */
import { CODE } from './loops-code.js';
import { SIDE, type EnvelopeRows, type OuterGroups } from './rows.js';

/** What the module exports; see loops.as.ts. */
interface Loops {
  readonly memory: { readonly buffer: ArrayBuffer; grow(pages: number): number };
  readonly takeOuter: (
    ...places: [
      ...[values: number, start: number, first: number, groups: number],
      ...[groupStart: number, block: number, factor: number, scratch: number],
    ]
  ) => void;
  readonly factor: (values: number, start: number, first: number, blocks: number, least: number) => void;
}

/** What is used of the engine; the types of Node leave it out. */
interface WebAssemblyEngine {
  readonly validate: (code: Uint8Array) => boolean;
  readonly Module: new (code: Uint8Array) => object;
  readonly Instance: new (module: object) => { readonly exports: unknown };
}

const PAGE_BYTES = 65536;
let loops: Loops | null | undefined;

/** Null where the engine cannot run them. */
function compiled(): Loops | null {
  if (loops === undefined) {
    const engine = (globalThis as { readonly WebAssembly?: WebAssemblyEngine }).WebAssembly;
    const code = Uint8Array.from(atob(CODE), (letter) => letter.charCodeAt(0));
    loops = engine?.validate(code) ? (new engine.Instance(new engine.Module(code)).exports as Loops) : null;
  }
  return loops;
}

/** Whether this engine runs the compiled loops. */
export function hasSimd(): boolean {
  return compiled() !== null;
}

/**
 * Takes the outer products off the matrix and factors what is left, in place.
 *
 * @returns false where the engine cannot; nothing is changed then
 */
export function factorLessOuterSimd(
  { first, start }: EnvelopeRows,
  groups: OuterGroups,
  least: Float64Array,
  values: Float64Array,
): boolean {
  const code = compiled();
  if (code === null) return false;
  const widest = first.reduce((most, from, t) => Math.max(most, t - from + 1), 0);
  const columns = [values, least, groups.factor, first, start, groups.groupStart, groups.block];
  const scratchBytes = 8 * 3 * SIDE * widest;
  const bytes = columns.reduce((sum, { byteLength }) => sum + rounded(byteLength), FROM_BYTE + scratchBytes);
  const missing = Math.ceil((bytes - code.memory.buffer.byteLength) / PAGE_BYTES);
  if (missing > 0) code.memory.grow(missing);
  const memory = new Uint8Array(code.memory.buffer);
  let next = FROM_BYTE;
  const place = (column: Float64Array | Int32Array): number => {
    const at = next;
    memory.set(new Uint8Array(column.buffer, column.byteOffset, column.byteLength), at);
    next += rounded(column.byteLength);
    return at;
  };
  const [v, l, f, firstAt, startAt, groupAt, blockAt] = columns.map(place);
  code.takeOuter(v, startAt, firstAt, groups.groupStart.length - 1, groupAt, blockAt, f, next);
  code.factor(v, startAt, firstAt, first.length, l);
  values.set(new Float64Array(code.memory.buffer, v, values.length));
  return true;
}

/** What lies below belongs to the compiler. */
const FROM_BYTE = 4096;

/** Columns begin at full vectors. */
function rounded(bytes: number): number {
  return (bytes + 15) & ~15;
}
