/** The rough angles of one job from its first frame on, in degrees, thinned out where the clip is long. */
import type { Trace } from '../api.js';
import type { TraceSamples } from './protocol.js';

/** No more samples are held; beyond them every second one goes, again and again. */
export const MOST_SAMPLES = 4000;

/** Grows by batches; tells what a page has to be told. */
export class TraceSoFar {
  #samples: TraceSamples = { timeS: [], panDeg: [], tiltDeg: [], rollDeg: [] };
  /** Of so many samples one is held. */
  #every = 1;
  #seen = 0;

  constructor(readonly job: string) {}

  /** Adds samples. @returns what is new, or the whole where places have changed; null when nothing is to be told */
  add(samples: TraceSamples): Trace | null {
    const from = this.#samples.timeS.length;
    samples.timeS.forEach((_, i) => {
      if (this.#seen++ % this.#every === 0) this.#push(samples, i);
    });
    if (this.#samples.timeS.length === from) return null;
    if (this.#samples.timeS.length <= MOST_SAMPLES) return this.#from(from);
    while (this.#samples.timeS.length > MOST_SAMPLES) this.#halve();
    return this.#from(0);
  }

  /** All so far; null before the first sample. */
  whole(): Trace | null {
    return this.#samples.timeS.length === 0 ? null : this.#from(0);
  }

  #push({ timeS, panDeg, tiltDeg, rollDeg }: TraceSamples, i: number): void {
    this.#samples.timeS.push(timeS[i]);
    this.#samples.panDeg.push(panDeg[i]);
    this.#samples.tiltDeg.push(tiltDeg[i]);
    this.#samples.rollDeg.push(rollDeg[i]);
  }

  #halve(): void {
    const half = (values: readonly number[]): number[] => values.filter((_, i) => i % 2 === 0);
    const { timeS, panDeg, tiltDeg, rollDeg } = this.#samples;
    this.#samples = {
      timeS: half(timeS),
      panDeg: half(panDeg),
      tiltDeg: half(tiltDeg),
      rollDeg: half(rollDeg),
    };
    this.#every *= 2;
  }

  #from(from: number): Trace {
    const { timeS, panDeg, tiltDeg, rollDeg } = this.#samples;
    return {
      ...{ job: this.job, from },
      timeS: timeS.slice(from),
      panDeg: panDeg.slice(from),
      tiltDeg: tiltDeg.slice(from),
      rollDeg: rollDeg.slice(from),
    };
  }
}
