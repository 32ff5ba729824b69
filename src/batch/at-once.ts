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
/** Most clips for a core, as asked for: while one waits for its disk or network, another one computes; more only take memory. */
const MOST_PER_CORE = 2;

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

/** Measurements that there is memory for, 0 or more. */
export function fittingIn({ freeBytes }: Machine): number {
  return Math.floor((freeBytes * (1 - LEFT_SHARE)) / MEASUREMENT_BYTES);
}

/**
 * Lays the work out: one measurement for each core, for several with a thread each get more done than one with several; fewer where memory
 * is short or fewer clips are asked for, and then with the more threads.
 *
 * @param jobs as the person asks: two for a core at most, and no more than there is memory for, but always one
 * @example layOut({ cores: 8, freeBytes: 64e9 }) // { atOnce: 8, threads: 1 }
 * @example layOut({ cores: 8, freeBytes: 3e9 }) // { atOnce: 3, threads: 2 }
 * @example layOut({ cores: 2, freeBytes: 64e9 }, 200) // { atOnce: 4, threads: 1 }
 */
export function layOut(machine: Machine, jobs?: number): Layout {
  const { cores } = machine;
  const wanted = jobs === undefined ? cores : Math.min(jobs, MOST_PER_CORE * cores);
  const atOnce = Math.max(1, Math.min(wanted, fittingIn(machine)));
  return { atOnce, threads: Math.max(1, Math.floor(cores / atOnce)) };
}
