/** The part of WebAssembly that the kernel needs, typed by hand: the library of types that has it is that of browsers. */

/** Memory that several threads share; may be sent to a thread. */
export interface SharedMemory {
  readonly buffer: SharedArrayBuffer;
}

/** A compiled module; may be sent to a thread. */
export interface CompiledKernel {
  readonly [Symbol.toStringTag]: string;
}

interface Api {
  readonly Memory: new (pages: {
    readonly initial: number;
    readonly maximum: number;
    readonly shared: true;
  }) => SharedMemory;
  compile(bytes: Uint8Array): Promise<CompiledKernel>;
  instantiate(module: CompiledKernel, imports: object): Promise<{ readonly exports: unknown }>;
}

/** The global of that name. */
export const webAssembly = (globalThis as unknown as { readonly WebAssembly: Api }).WebAssembly;
