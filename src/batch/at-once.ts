/** How many clips are measured at once: as many as there are cores, and as fit into the memory that is free. */
import os from 'node:os';

/**
 * Memory that is set aside for one measurement with its FFmpeg, bytes. Measured as the peak of the sum over all its processes: 232 MB for
 * 2.5 s of 480x270, 290 MB for 6 s of 1280x720, 364 MB for 60 s of it, 420 MB for 40 s of 3840x2160 (H.264), 370 MB for 4 s of it in ProRes.
 * What it takes is known only when it runs, and decoders of larger pictures on more cores take more: hence the room.
 */
export const MEASUREMENT_BYTES = 0.75e9;
/** Left to everything else on the machine, share of what is free. */
const LEFT_SHARE = 0.15;

/** What there is. */
export interface Machine {
  /** Cores that this process may use. */
  readonly cores: number;
  /** Memory that can be had without others giving way, bytes. */
  readonly freeBytes: number;
}

/** How the work is laid out. */
export interface Layout {
  /** Measurements at once, 1 or more. */
  readonly atOnce: number;
  /** Threads of the tracker in each, 1 or more. */
  readonly threads: number;
}

/** This machine as it stands; limits of a container count. */
export function thisMachine(): Machine {
  return { cores: os.availableParallelism(), freeBytes: process.availableMemory() };
}

/**
 * Lays the work out: one measurement for each core, for several with a thread each get more done than one with several; fewer where memory
 * is short or fewer clips are asked for, and then with the more threads.
 *
 * @param jobs as the person asks; memory is then not looked at
 * @example layOut({ cores: 8, freeBytes: 64e9 }) // { atOnce: 8, threads: 1 }
 * @example layOut({ cores: 8, freeBytes: 3e9 }) // { atOnce: 3, threads: 2 }
 */
export function layOut({ cores, freeBytes }: Machine, jobs?: number): Layout {
  const fitting = Math.floor((freeBytes * (1 - LEFT_SHARE)) / MEASUREMENT_BYTES);
  const atOnce = jobs ?? Math.max(1, Math.min(cores, fitting));
  return { atOnce, threads: Math.max(1, Math.floor(cores / atOnce)) };
}
