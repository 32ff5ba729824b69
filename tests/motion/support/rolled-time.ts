/** When a simulated dolly rolls and when it stands: ramps at both ends and a pause, as the time rolled at full speed. */

/** See PassOptions; seconds. */
interface RollingPlan {
  readonly rampS: number;
  readonly pause: { readonly fromS: number; readonly lengthS: number } | null;
  readonly durationS: number;
}

/** Seconds at full speed that make the way rolled until s: the integral of a speed of straight pieces. */
export function rolledTime({ rampS, pause, durationS }: RollingPlan): (s: number) => number {
  const corners: [number, number][] =
    rampS > 0
      ? [
          [0, 0],
          [rampS, 1],
        ]
      : [[0, 1]];
  if (pause) {
    const { fromS, lengthS } = pause;
    const eased = Math.max(rampS, 0.5);
    corners.push([fromS - eased, 1], [fromS, 0], [fromS + lengthS, 0], [fromS + lengthS + eased, 1]);
  }
  corners.push([durationS - rampS, 1], [durationS, rampS > 0 ? 0 : 1]);
  return (s) => {
    let sum = 0;
    for (let k = 1; k < corners.length && corners[k - 1][0] < s; k++) {
      const [from, fromSpeed] = corners[k - 1];
      const [to, toSpeed] = corners[k];
      const until = Math.min(s, to);
      const speed = fromSpeed + ((toSpeed - fromSpeed) * (until - from)) / Math.max(to - from, 1e-9);
      sum += ((fromSpeed + speed) / 2) * (until - from);
    }
    return sum;
  };
}
