/** Lets one process at a time work on a file or folder; a process that died holds nothing. */
import fs from 'node:fs';
import path from 'node:path';
import { isLeft, letGo, newMark } from './unfinished.js';

/** How often a place that is held is looked at again, ms. */
const LOOK_MS = 20;
/** A hold that names nobody is being written at this moment; one that stays so for this long was left by a crash, ms. */
const NAMELESS_MS = 2000;

/** A place that is held. */
export interface Hold {
  /** Gives the place to the next. */
  release(): void;
}

/**
 * Holds a place, waiting for whoever has it.
 *
 * @param place named by a file of its own, made and removed here
 * @param waitMs at most, by a clock that nobody can set
 * @returns null where another held it the whole time
 * @throws what the system says where the file cannot be made
 */
export async function holdPlace(place: string, waitMs: number): Promise<Hold | null> {
  const attempt = new Attempt(place, waitMs);
  for (;;) {
    const hold = attempt.take();
    if (hold || attempt.isOver()) return hold;
    await new Promise((resolve) => setTimeout(resolve, LOOK_MS));
  }
}

/** As `holdPlace`, for work that cannot wait any other way than standing still. */
export function holdPlaceNow(place: string, waitMs: number): Hold | null {
  const attempt = new Attempt(place, waitMs);
  for (;;) {
    const hold = attempt.take();
    if (hold || attempt.isOver()) return hold;
    Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, LOOK_MS);
  }
}

class Attempt {
  readonly #until: number;
  #namelessSince: number | null = null;

  constructor(
    private readonly place: string,
    waitMs: number,
  ) {
    this.#until = performance.now() + waitMs;
  }

  isOver(): boolean {
    return performance.now() > this.#until;
  }

  take(): Hold | null {
    const mark = newMark();
    try {
      fs.writeFileSync(this.place, mark, { flag: 'wx' });
      return {
        release: () => {
          fs.rmSync(this.place, { force: true });
          letGo(mark);
        },
      };
    } catch (error) {
      letGo(mark);
      if ((error as NodeJS.ErrnoException).code !== 'EEXIST') {
        // A full disk takes the name and not what should stand there.
        if ((error as NodeJS.ErrnoException).code === 'ENOSPC') fs.rmSync(this.place, { force: true });
        throw error;
      }
    }
    this.#freeFromTheDead();
    return null;
  }

  /** Takes the hold of a process that is gone out of the way; what turns out to be somebody else's by then is put back. */
  #freeFromTheDead(): void {
    const holder = this.#holder();
    if (holder === null || !this.#isDead(holder)) return;
    const aside = path.join(path.dirname(this.place), `${path.basename(this.place)}-left-${process.pid}`);
    try {
      fs.renameSync(this.place, aside);
      if (fs.readFileSync(aside, 'utf8') !== holder.mark && !fs.existsSync(this.place))
        fs.renameSync(aside, this.place);
      else fs.rmSync(aside, { force: true });
    } catch {
      // Another one was quicker.
    }
  }

  #holder(): { mark: string; modifiedMs: number } | null {
    try {
      return {
        mark: fs.readFileSync(this.place, 'utf8'),
        modifiedMs: fs.statSync(this.place).mtimeMs,
      };
    } catch {
      this.#namelessSince = null;
      return null;
    }
  }

  #isDead({ mark, modifiedMs }: { mark: string; modifiedMs: number }): boolean {
    if (mark !== '') {
      this.#namelessSince = null;
      return isLeft(mark, modifiedMs);
    }
    this.#namelessSince ??= performance.now();
    return performance.now() - this.#namelessSince > NAMELESS_MS;
  }
}
