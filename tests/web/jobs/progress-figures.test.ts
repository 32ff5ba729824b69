/** Frames a second and time left, with a clock that the test moves. */
import { describe, expect, it } from 'vitest';
import { ProgressFigures } from '../../../src/web/jobs/progress-figures.js';
import { expectWithin } from '../../support/expect-within.js';

/** A job whose every step takes a known time. */
class MadeUpJob {
  ms = 0;
  readonly figures = new ProgressFigures('measure', () => this.ms);
  readonly left: number[] = [];
  readonly shares: number[] = [];

  /** Steps of a stage, a look at the figures after each. */
  stage(name: 'track' | 'split', steps: number, stepMs: (step: number) => number): void {
    for (let step = 1; step <= steps; step++) {
      this.ms += stepMs(step);
      this.figures.note(name, step, steps);
      this.look();
    }
  }

  /** A stage that counts nothing. */
  silent(name: 'probe' | 'judge' | 'write', seconds: number): void {
    this.figures.note(name, 0, null);
    for (let k = 0; k < 10; k++) {
      this.ms += 100 * seconds;
      this.look();
    }
  }

  look(): void {
    this.shares.push(this.figures.share());
    const leftS = this.figures.leftS();
    if (leftS !== null) this.left.push(leftS);
  }
}

/** With stages of the usual shares: 54 % of frames, 12 % before, 34 % after them. */
function usual(frameMs: (frame: number) => number): MadeUpJob {
  const job = new MadeUpJob();
  job.silent('probe', 12);
  job.stage('track', 540, frameMs);
  job.stage('split', 19, () => 1000);
  job.silent('judge', 11);
  job.silent('write', 4);
  return job;
}

describe('the time left', () => {
  it('is for the whole job, not the stage, and runs out with it', () => {
    const job = usual(() => 100);
    // 54 s of frames and 34 s of the rest, told once half a second of frames has passed.
    expectWithin(job.left[0], 88, { abs: 2, why: 'whole seconds, and the first half second' });
    expectWithin(job.left[270], 27 + 34, { abs: 2, why: 'half of the frames' });
    expect(job.left.at(-1)).toBeLessThanOrEqual(2);
  });

  it('never goes up while the work goes on evenly', () => {
    const { left } = usual(() => 100);
    left.slice(1).forEach((value, i) => expect(value).toBeLessThanOrEqual(left[i]));
  });

  it('goes up by little at a time when the machine becomes three times as slow', () => {
    const { left } = usual((frame) => (frame < 200 ? 100 : 300));
    const rises = left.slice(1).map((value, i) => value - left[i]);
    expect(Math.max(...rises)).toBeLessThanOrEqual(3);
  });

  it('is not told before the first frames', () => {
    const job = new MadeUpJob();
    job.silent('probe', 5);
    job.stage('track', 1, () => 40);
    expect(job.left).toEqual([]);
  });

  it('is for a proof what its frames take', () => {
    let ms = 0;
    const figures = new ProgressFigures('proof', () => ms);
    figures.note('probe', 0, null);
    for (let frame = 1; frame <= 50; frame++) {
      ms += 100;
      figures.note('render', frame, 100);
    }
    expectWithin(figures.leftS() ?? NaN, 5, { abs: 1, why: 'whole seconds' });
  });
});

describe('how far a job is', () => {
  it('goes from nothing to all over its stages, and never back', () => {
    const { shares } = usual((frame) => (frame < 200 ? 100 : 300));
    shares.slice(1).forEach((value, i) => expect(value).toBeGreaterThanOrEqual(shares[i]));
    expect(shares[0]).toBeLessThan(0.05);
    expectWithin(shares[10 + 270], 0.12 + 0.27, { abs: 0.02, why: 'reading, and half of the frames' });
    expect(shares.at(-1)).toBeGreaterThan(0.95);
    expect(shares.at(-1)).toBeLessThan(1);
  });

  it('moves on in stages that count nothing', () => {
    const { shares } = usual(() => 100);
    const writing = shares.slice(-10);
    expect(writing[9]).toBeGreaterThan(writing[0]);
  });

  it('is nothing before the first stage', () => {
    expect(new ProgressFigures('measure', () => 0).share()).toBe(0);
  });
});

describe('frames a second', () => {
  it('are those of the last three seconds, and none outside of stages that count frames', () => {
    const job = new MadeUpJob();
    job.silent('probe', 1);
    expect(job.figures.framesPerS()).toBeNull();
    job.stage('track', 200, (frame) => (frame < 100 ? 100 : 50));
    expectWithin(job.figures.framesPerS() ?? NaN, 20, { rel: 0.01, why: 'steps of 50 ms' });
    job.stage('split', 3, () => 1000);
    expect(job.figures.framesPerS()).toBeNull();
  });
});
