/**
 * The pictures that the threads of a tracking run share, and the one place where it is decided what they are looked at
 * with: the SIMD kernel where there is one, else the scalar image engine.
 */
import { KernelPair } from './kernel/kernel-pair.js';
import { FRAMES, layOut, writeConstants, type PictureUse } from './kernel/layout.js';
import { compileKernel, startKernel } from './kernel/load-kernel.js';
import { webAssembly, type CompiledKernel, type SharedMemory } from './kernel/web-assembly.js';
import type { PicturePair } from './types.js';

/** What the threads hold in common; may be sent to a thread. */
export interface PictureShare {
  readonly use: PictureUse;
  /** Frames of widthPx * heightPx bytes, in shared memory; written by one thread, read by all. */
  readonly frames: readonly Uint8Array[];
  /** The SIMD kernel with its memory; null where the scalar engine does the work. */
  readonly kernel: { readonly module: CompiledKernel; readonly memory: SharedMemory } | null;
}

/** Bytes of a page of WebAssembly memory. */
const PAGE_BYTES = 65_536;

/** Lays out memory for pictures of one size. @param scalar true to do without the kernel */
export async function sharePictures(use: PictureUse, scalar = false): Promise<PictureShare> {
  const frameBytes = use.widthPx * use.heightPx;
  const framesIn = (buffer: ArrayBufferLike, addresses: readonly number[]): Uint8Array[] =>
    addresses.map((address) => new Uint8Array(buffer, address, frameBytes));
  const module = scalar ? null : await compileKernel();
  if (!module) {
    const buffer = new SharedArrayBuffer(FRAMES * frameBytes);
    const addresses = Array.from({ length: FRAMES }, (_, i) => i * frameBytes);
    return { use, frames: framesIn(buffer, addresses), kernel: null };
  }
  const layout = layOut(use);
  const pages = Math.ceil(layout.bytes / PAGE_BYTES);
  const memory = new webAssembly.Memory({ initial: pages, maximum: pages, shared: true });
  writeConstants(memory, layout, use.blurSigmaPx);
  return { use, frames: framesIn(memory.buffer, layout.frames), kernel: { module, memory } };
}

/** A pair of pictures in this thread, and how much memory it works in. */
export interface OpenPictures {
  readonly pair: PicturePair;
  /** Memory taken from the system so far, bytes; of the kernel, the whole that the threads share. */
  readonly heapBytes: () => number;
}

/**
 * Opens the pictures in one of the threads that share them. With more than one thread each must push each picture: they
 * wait for each other.
 * @param hand number of this thread, from 0
 * @throws Error when the image engine cannot start
 */
export async function openPair(share: PictureShare, hand: number): Promise<OpenPictures> {
  const { use, kernel } = share;
  if (kernel) {
    const { module, memory } = kernel;
    const pair = new KernelPair(await startKernel(module, memory), memory, use, layOut(use), hand);
    return { pair, heapBytes: () => memory.buffer.byteLength };
  }
  const { startVision } = await import('./start-vision.js');
  const vision = await startVision();
  const pair = vision.openPair(use.widthPx, use.heightPx, use.blurSigmaPx);
  return { pair, heapBytes: () => vision.heapBytes() };
}
