/** Compiles the SIMD kernel (assembly/) where the machine can run it. */
import { CODE } from './kernel-code.js';
import { webAssembly, type CompiledKernel, type SharedMemory } from './web-assembly.js';

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
  localMaxima(map: number, width: number, height: number, floor: number, out: number): number;
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
  cutTemplate(
    levels: number,
    width: number,
    xPx: number,
    yPx: number,
    template: number,
    weights: number,
    half: number,
    rows: number,
    rowStepPx: number,
    contrastFloor: number,
    work: number,
  ): void;
  matchTemplate(
    levels: number,
    width: number,
    height: number,
    template: number,
    weights: number,
    half: number,
    rows: number,
    rowStepPx: number,
    place: number,
    iterations: number,
    stepPx: number,
    aheadPx: number,
    leastGain: number,
  ): number;
}

let compiled: Promise<CompiledKernel | null> | undefined;

/** The compiled kernel, which may be sent to other threads; null where it cannot be run. */
export function compileKernel(): Promise<CompiledKernel | null> {
  compiled ??= compile(Buffer.from(CODE, 'base64'));
  return compiled;
}

/** Compiles a kernel; null where this engine cannot run it. */
export async function compile(code: Uint8Array): Promise<CompiledKernel | null> {
  try {
    return await webAssembly.compile(code);
  } catch {
    // No SIMD or no shared memory: the scalar engine does the same work.
    return null;
  }
}

/** Starts the kernel in this thread on memory that other threads may hold as well. */
export async function startKernel(module: CompiledKernel, memory: SharedMemory): Promise<Kernel> {
  const { exports } = await webAssembly.instantiate(module, { env: { memory } });
  return exports as Kernel;
}
