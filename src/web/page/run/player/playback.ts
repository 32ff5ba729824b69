/** Where a clip stands while it is played: by the time stamps of its frames in seconds, round and round, at any speed and either way. */
import { signal } from '@preact/signals';

/** Speeds to choose. */
export const SPEEDS = [0.25, 0.5, 1] as const;

/** A speed to choose. */
export type Speed = (typeof SPEEDS)[number];

/** The shuttle goes no faster than this. */
const FASTEST = 4;
/** A page that was in the background does not catch up with more than this, seconds. */
const LONGEST_TICK_S = 0.25;

/** The last frame whose stamp is not after a moment; the first one before all. @param timeS rising, seconds, not empty */
export function frameShownAt(timeS: readonly number[], atS: number): number {
  let low = 0;
  let high = timeS.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (timeS[middle] <= atS) low = middle;
    else high = middle - 1;
  }
  return low;
}

/** A moment moved on, beginning anew after the last frame has been shown as long as the others are in the mean. */
export function movedOn(timeS: readonly number[], atS: number, byS: number): number {
  const first = timeS[0];
  const shown = timeS[timeS.length - 1] - first;
  const period = timeS.length > 1 ? shown + shown / (timeS.length - 1) : 1;
  const into = (atS - first + byS) % period;
  return first + (into < 0 ? into + period : into);
}

/** A clip that is played, or stands at a frame. */
export class Playback {
  /** The frame to show, from 0. */
  readonly frame = signal(0);
  /** Times as fast as it was shot; negative backwards, 0 standing. */
  readonly rate = signal(0);
  /** The speed that playing starts with. */
  readonly speed = signal<Speed>(1);
  /** It would go on, but the next frame is not there yet. */
  readonly waiting = signal(false);
  readonly #isReady: (frame: number) => boolean;
  #timeS: readonly number[] = [];
  #made = 0;
  #atS = 0;

  /** @param isReady whether a frame can be shown */
  constructor(isReady: (frame: number) => boolean) {
    this.#isReady = isReady;
  }

  /** Frames that there will be. */
  get count(): number {
    return this.#timeS.length;
  }

  /** Those of them that can be shown so far, from the first on. */
  get made(): number {
    return this.#made;
  }

  /** When the frame is shown, seconds from the start of the clip; 0 without frames. */
  get timeS(): number {
    return this.#timeS[this.frame.value] ?? 0;
  }

  /** Tells the frames by their stamps, and how many of them are made so far. */
  setTimes(timeS: readonly number[], made = timeS.length): void {
    this.#timeS = timeS;
    this.#made = Math.min(made, timeS.length);
    if (this.#made > 0) this.goTo(this.frame.peek());
  }

  /** Moves on by a stretch of real time. */
  tick(elapsedS: number): void {
    const rate = this.rate.peek();
    if (rate === 0 || this.count === 0) return;
    const atS = movedOn(this.#timeS, this.#atS, rate * Math.min(LONGEST_TICK_S, elapsedS));
    const frame = frameShownAt(this.#timeS, atS);
    this.waiting.value = frame >= this.#made || !this.#isReady(frame);
    if (this.waiting.value) return;
    this.#atS = atS;
    this.frame.value = frame;
  }

  /** Plays on at the chosen speed. */
  play(): void {
    this.rate.value = this.speed.peek();
  }

  stop(): void {
    this.rate.value = 0;
    this.waiting.value = false;
  }

  toggle(): void {
    if (this.rate.peek() === 0) this.play();
    else this.stop();
  }

  /** Chooses a speed; what is played goes on with it. */
  setSpeed(speed: Speed): void {
    this.speed.value = speed;
    const rate = this.rate.peek();
    if (rate !== 0) this.rate.value = Math.sign(rate) * speed;
  }

  /** Plays that way; faster where it does already. */
  shuttle(direction: 1 | -1): void {
    const rate = this.rate.peek();
    const along = Math.sign(rate) === direction;
    this.rate.value = along
      ? direction * Math.min(FASTEST, 2 * Math.abs(rate))
      : direction * this.speed.peek();
  }

  /** Stops, and goes on or back by frames, not beyond the ends. */
  step(by: number): void {
    this.stop();
    this.goTo(this.frame.peek() + by);
  }

  /** Goes to a frame, or to the nearest one that is made; goes on playing from there. */
  goTo(frame: number): void {
    if (this.#made === 0) return;
    this.frame.value = Math.max(0, Math.min(this.#made - 1, Math.round(frame)));
    this.#atS = this.#timeS[this.frame.value];
  }
}
