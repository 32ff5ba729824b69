/** The running angles of a measurement, put together from the pieces that come while it works; degrees over seconds. Pure functions. */
import type { Trace } from '../api.js';

/** The whole trace so far, columns of one length. */
export interface JoinedTrace {
  readonly timeS: readonly number[];
  readonly panDeg: readonly number[];
  readonly tiltDeg: readonly number[];
  readonly rollDeg: readonly number[];
}

/** Puts a piece where it belongs: what stood from its place on is replaced. @param before undefined for none yet */
export function joinTrace(before: JoinedTrace | undefined, piece: Trace): JoinedTrace {
  const join = (column: keyof JoinedTrace): readonly number[] => [
    ...(before?.[column].slice(0, piece.from) ?? []),
    ...piece[column],
  ];
  return {
    timeS: join('timeS'),
    panDeg: join('panDeg'),
    tiltDeg: join('tiltDeg'),
    rollDeg: join('rollDeg'),
  };
}
