/** Plays a clip by stepping its frames by the clock: as many of them show as the server can give. */
import { useEffect, useRef, useState } from 'preact/hooks';
import type { Signal } from '@preact/signals';
import { frameDue, playStart, shuttled } from './shuttle.js';

/** What is played. */
export interface ShuttleClip {
  readonly fps: number;
  readonly frames: number;
}

/** The controls. */
export interface Shuttle {
  /** Times the speed of the clip, negative is back, 0 stands. */
  readonly speed: number;
  readonly playOrStop: () => void;
  /** J (back) and L (on). */
  readonly faster: (way: -1 | 1) => void;
  readonly stop: () => void;
}

/** Plays. @param head the frame under the playhead; playing moves it, and whoever moves it should stop the playing first */
export function useShuttle(head: Signal<number>, { fps, frames }: ShuttleClip): Shuttle {
  const [speed, setSpeed] = useState(0);
  const request = useRef(0);

  useEffect(() => {
    if (speed === 0) return;
    const beganAt = playStart(head.peek(), speed, frames);
    const beganMs = performance.now();
    const step = (nowMs: number): void => {
      const frame = frameDue(beganAt, Math.max(0, nowMs - beganMs) / 1000, speed, { fps, frames });
      head.value = frame;
      if (frame === (speed > 0 ? frames - 1 : 0)) setSpeed(0);
      else request.current = requestAnimationFrame(step);
    };
    request.current = requestAnimationFrame(step);
    return () => cancelAnimationFrame(request.current);
  }, [speed, fps, frames, head]);

  return {
    speed,
    playOrStop: () => setSpeed((now) => (now === 0 ? 1 : 0)),
    faster: (way) => setSpeed((now) => shuttled(now, way)),
    stop: () => {
      cancelAnimationFrame(request.current);
      setSpeed(0);
    },
  };
}
