/** Compiles the SIMD kernel that `npm run build` makes of assembly/, where the kernel is there and the machine can run it. */
import fs from 'node:fs/promises';
import { webAssembly, type CompiledKernel, type SharedMemory } from './web-assembly.js';

/** Run from source the kernel is that of the last build; built, it lies beside this module. */
const KERNEL_URL = new URL(
  import.meta.url.endsWith('.ts') ? '../../../dist/vision/kernel/kernel.wasm' : './kernel.wasm',
  import.meta.url,
);

/** What the kernel exports; addresses and sizes in bytes, lengths in pixels. Each is described in assembly/. */
export interface Kernel {
  blurRows(
    source: number,
    width: number,
    height: number,
    target: number,
    stride: number,
    pad: number,
    levels: number,
    weights: number,
    radius: number,
    from: number,
    to: number,
    scratch: number,
  ): void;
  halveRows(
    below: number,
    strideBelow: number,
    out: number,
    stride: number,
    width: number,
    pad: number,
    from: number,
    to: number,
    scratch: number,
  ): void;
  relightRows(
    source: number,
    target: number,
    stride: number,
    width: number,
    pad: number,
    table: number,
    from: number,
    to: number,
  ): void;
  padRows(
    first: number,
    stride: number,
    width: number,
    height: number,
    pad: number,
    from: number,
    to: number,
  ): void;
  cornerStrength(
    picture: number,
    stride: number,
    width: number,
    height: number,
    left: number,
    top: number,
    columns: number,
    rows: number,
    block: number,
    out: number,
    scratch: number,
  ): void;
  followPoints(
    from: number,
    into: number,
    topLevel: number,
    points: number,
    next: number,
    found: number,
    count: number,
    window: number,
    iterations: number,
    epsilonSquared: number,
    leastEigenvalue: number,
    scratch: number,
  ): void;
}

let compiled: Promise<CompiledKernel | null> | undefined;

/** The compiled kernel, which may be sent to other threads; null where it was not built or cannot be run here. */
export function compileKernel(): Promise<CompiledKernel | null> {
  compiled ??= compile(KERNEL_URL);
  return compiled;
}

/** Compiles the kernel in a file; null as above. */
export async function compile(url: URL): Promise<CompiledKernel | null> {
  try {
    return await webAssembly.compile(await fs.readFile(url));
  } catch {
    // No file, no SIMD or no shared memory: the scalar engine does the same work.
    return null;
  }
}

/** Starts the kernel in this thread on memory that other threads may hold as well. */
export async function startKernel(module: CompiledKernel, memory: SharedMemory): Promise<Kernel> {
  const { exports } = await webAssembly.instantiate(module, { env: { memory } });
  return exports as Kernel;
}
