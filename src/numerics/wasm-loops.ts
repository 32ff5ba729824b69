/** Inner loops that are compiled to WebAssembly: started once, with memory that holds the columns of one call. */

/** A module as it is used: its memory, and loops that take addresses and counts. */
export interface Loops {
  readonly memory: { readonly buffer: ArrayBuffer; grow(pages: number): number };
}

/** What is used of the engine; the types of Node leave it out. */
interface WebAssemblyEngine {
  readonly validate: (code: Uint8Array) => boolean;
  readonly Module: new (code: Uint8Array) => object;
  readonly Instance: new (module: object, imports: object) => { readonly exports: unknown };
}

const PAGE_BYTES = 65536;
/** What lies below belongs to the compiler. */
const FROM_BYTE = 4096;

/**
 * A maker of instances of a module; null where the engine cannot run it.
 *
 * @param code base64
 * @param imports what the module asks for, under the name of the file that asks
 */
export function instancesOf<Exports extends Loops>(
  code: string,
  imports: object = {},
): (() => Exports) | null {
  const engine = (globalThis as { readonly WebAssembly?: WebAssemblyEngine }).WebAssembly;
  const bytes = Uint8Array.from(atob(code), (letter) => letter.charCodeAt(0));
  if (!engine?.validate(bytes)) return null;
  const module = new engine.Module(bytes);
  return () => new engine.Instance(module, imports).exports as Exports;
}

/**
 * Copies columns into the memory of a module, each from a full vector on, and makes room behind them.
 *
 * @returns addresses of the columns, and of the room
 */
export function placeColumns(
  { memory }: Loops,
  columns: readonly (Float64Array | Int32Array)[],
  roomBytes = 0,
): { readonly places: readonly number[]; readonly room: number } {
  const bytes = columns.reduce((sum, { byteLength }) => sum + rounded(byteLength), FROM_BYTE + roomBytes);
  const missing = Math.ceil((bytes - memory.buffer.byteLength) / PAGE_BYTES);
  if (missing > 0) memory.grow(missing);
  const all = new Uint8Array(memory.buffer);
  let next = FROM_BYTE;
  const places = columns.map((column) => {
    const at = next;
    all.set(new Uint8Array(column.buffer, column.byteOffset, column.byteLength), at);
    next += rounded(column.byteLength);
    return at;
  });
  return { places, room: next };
}

/** Copies a column back. */
export function takeColumn({ memory }: Loops, at: number, column: Float64Array): void {
  column.set(new Float64Array(memory.buffer, at, column.length));
}

/** Columns begin at full vectors. */
function rounded(bytes: number): number {
  return (bytes + 15) & ~15;
}
