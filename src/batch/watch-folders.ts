/**
 * Watches folders for clips: those that are there come first, later ones as they come, each once it has been still for a while. A clip that
 * changes afterwards comes again.
 *
 * Folders are looked through again and again: what comes over a network or from a card reader is not told by every system.
 */
import { findClips, type FindOptions, type FoundClip, type FoundClips } from './find-clips.js';

/** How long size and time of a clip have to stay the same before it is taken for whole, ms: copying programs write more often. */
export const SETTLE_MS = 4000;
/** How often folders are looked through, ms; large ones less often. */
const LOOK_EVERY_MS = 2000;
/** Looking takes this share of the time at most. */
const LOOKING_SHARE = 0.1;

/** How folders are watched. */
export interface WatchOptions extends Omit<FindOptions, 'signal'> {
  /** Ends the watching. */
  readonly signal: AbortSignal;
  /** Told of a folder that cannot be looked into, once as long as it stays so. */
  readonly onBarred: (barred: FoundClips['barred'][number]) => void;
  readonly settleMs?: number;
  readonly everyMs?: number;
}

/** A clip with the folder that it was found in. */
export interface WatchedClip extends FoundClip {
  /** The folder as it was named. */
  readonly folder: string;
}

/** What is known of a file that is watched. */
interface Sight {
  readonly sizeBytes: number;
  readonly modifiedMs: number;
  /** Since when it is so, by a clock that nobody can set, ms. */
  readonly sinceMs: number;
  /** Whether it has come out. */
  readonly isTold: boolean;
}

/** The clips as they come, in bunches, never empty ones; ends when the signal is raised. */
export async function* watchFolders(
  folders: readonly string[],
  { signal, onBarred, settleMs = SETTLE_MS, everyMs = LOOK_EVERY_MS, ...find }: WatchOptions,
): AsyncGenerator<readonly WatchedClip[]> {
  let sights: ReadonlyMap<string, Sight> = new Map();
  let barredBefore: ReadonlySet<string> = new Set();
  while (!signal.aborted) {
    const beganMs = performance.now();
    const seen = new Map<string, Sight>();
    const barredNow = new Set<string>();
    const still: WatchedClip[] = [];
    for (const folder of folders) {
      const { clips, barred } = await findClips(folder, { ...find, signal });
      for (const one of barred) {
        if (!barredBefore.has(one.path)) onBarred(one);
        barredNow.add(one.path);
      }
      for (const clip of clips) {
        const sight = sightOf(clip, sights.get(clip.path), performance.now());
        const comes = !sight.isTold && clip.sizeBytes > 0 && performance.now() - sight.sinceMs >= settleMs;
        if (comes) still.push({ ...clip, folder });
        seen.set(clip.path, comes ? { ...sight, isTold: true } : sight);
      }
    }
    // A look that was broken off has not seen all.
    if (signal.aborted) return;
    sights = seen;
    barredBefore = barredNow;
    if (still.length > 0) yield still;
    await pause(Math.max(everyMs, (performance.now() - beganMs) / LOOKING_SHARE), signal);
  }
}

function sightOf({ sizeBytes, modifiedMs }: FoundClip, before: Sight | undefined, nowMs: number): Sight {
  const isSame = before?.sizeBytes === sizeBytes && before.modifiedMs === modifiedMs;
  return isSame ? before : { sizeBytes, modifiedMs, sinceMs: nowMs, isTold: false };
}

/** Waits, but not beyond the end. */
function pause(ms: number, signal: AbortSignal): Promise<void> {
  if (signal.aborted) return Promise.resolve();
  return new Promise((resolve) => {
    const end = (): void => {
      clearTimeout(timer);
      signal.removeEventListener('abort', end);
      resolve();
    };
    const timer = setTimeout(end, ms);
    signal.addEventListener('abort', end);
  });
}
