/** Play goes by the time stamps, round and round, waits for what is missing, and stands where it is told. */
import { describe, expect, it } from 'vitest';
import { Playback, frameShownAt, movedOn } from '../../../../src/web/page/run/player/playback.js';
import { expectWithin } from '../../../support/expect-within.js';

/** Four frames at 25 a second, then one that came late, as of a clip of uneven rate; in at 2 s. */
const TIMES = [2, 2.04, 2.08, 2.12, 2.2];
const ROUNDING = { abs: 1e-9, why: 'double precision of a few sums' };

function playing(ready: (frame: number) => boolean = () => true): Playback {
  const playback = new Playback(ready);
  playback.setTimes(TIMES);
  return playback;
}

describe('playing by time stamps', () => {
  it('shows the frame whose stamp was reached last', () => {
    expect([1, 2, 2.039, 2.04, 2.19, 2.2, 9].map((atS) => frameShownAt(TIMES, atS))).toEqual([
      0, 0, 0, 1, 3, 4, 4,
    ]);
  });

  it('begins anew when the last frame has had its time, in both directions', () => {
    // 0.2 s between first and last stamp, and 0.05 s, the mean of the others, for the last.
    expectWithin(movedOn(TIMES, 2.2, 0.04), 2.24, ROUNDING);
    expectWithin(movedOn(TIMES, 2.2, 0.06), 2.01, ROUNDING);
    expectWithin(movedOn(TIMES, 2.01, -0.02), 2.24, ROUNDING);
  });

  it('is not running before it is told to', () => {
    const playback = playing();
    playback.tick(0.1);
    expect(playback.frame.value).toBe(0);
    expect(playback.rate.value).toBe(0);
  });

  it('plays a quarter as fast when asked', () => {
    const playback = playing();
    playback.setSpeed(0.25);
    playback.play();
    playback.tick(0.1);
    expect(playback.frame.value).toBe(0);
    playback.tick(0.1);
    expect(playback.frame.value).toBe(1);
  });

  it('stays at its place while the next frame is missing, and goes on from there', () => {
    let there = false;
    const playback = playing((frame) => frame === 0 || there);
    playback.play();
    playback.tick(0.05);
    playback.tick(0.2);
    expect([playback.frame.value, playback.waiting.value]).toEqual([0, true]);
    there = true;
    playback.tick(0.05);
    expect([playback.frame.value, playback.waiting.value]).toEqual([1, false]);
  });

  it('is as long as the clip while its frames are being made, and goes no further than those', () => {
    const playback = new Playback(() => true);
    playback.setTimes(TIMES, 2);
    expect([playback.count, playback.made]).toEqual([5, 2]);
    playback.goTo(4);
    expect(playback.frame.value).toBe(1);
    playback.play();
    playback.tick(0.05);
    expect([playback.frame.value, playback.waiting.value]).toEqual([1, true]);
    playback.setTimes(TIMES);
    playback.tick(0.05);
    expect([playback.frame.value, playback.waiting.value]).toEqual([2, false]);
  });

  it('does not leap after the page was away', () => {
    const playback = new Playback(() => true);
    playback.setTimes(Array.from({ length: 100 }, (_, t) => t / 10));
    playback.play();
    playback.tick(60);
    expect(playback.frame.value).toBe(2);
  });

  it('shuttles faster with each press, up to four times, and turns round at once', () => {
    const playback = playing();
    const rates = [1, 1, 1, 1, -1, -1].map((direction) => {
      playback.shuttle(direction as 1 | -1);
      return playback.rate.value;
    });
    expect(rates).toEqual([1, 2, 4, 4, -1, -2]);
  });

  it('stops to step, and stops at the ends', () => {
    const playback = playing();
    playback.play();
    playback.step(1);
    expect([playback.frame.value, playback.rate.value]).toEqual([1, 0]);
    playback.step(-5);
    expect(playback.frame.value).toBe(0);
    playback.goTo(99);
    expect(playback.frame.value).toBe(4);
    expect(playback.timeS).toBe(2.2);
  });

  it('stands without frames', () => {
    const playback = new Playback(() => true);
    playback.play();
    playback.tick(1);
    playback.step(1);
    expect([playback.frame.value, playback.timeS]).toEqual([0, 0]);
  });
});
