/** The compiled loops of loops.as.ts, with memory of their own that grows as needed; one for each thread. */
import { instancesOf, placeColumns, takeColumn, type Loops } from '../wasm-loops.js';
import { CODE } from './loops-code.js';
import { SIDE, type EnvelopeRows, type OuterGroups } from './rows.js';

/** What the module exports; see loops.as.ts. */
interface EnvelopeLoops extends Loops {
  readonly takeOuter: (
    ...places: [
      ...[values: number, start: number, first: number, groups: number],
      ...[groupStart: number, block: number, factor: number, scratch: number],
    ]
  ) => void;
  readonly factor: (values: number, start: number, first: number, blocks: number, least: number) => void;
}

let loops: EnvelopeLoops | null | undefined;

/** Null where the engine cannot run them. */
function compiled(): EnvelopeLoops | null {
  if (loops === undefined) loops = instancesOf<EnvelopeLoops>(CODE)?.() ?? null;
  return loops;
}

/** Whether this engine runs the compiled loops. */
export function hasSimd(): boolean {
  return compiled() !== null;
}

/**
 * Takes the outer products off the matrix and factors what is left, in place.
 *
 * @returns false where the engine cannot; nothing is changed then
 */
export function factorLessOuterSimd(
  { first, start }: EnvelopeRows,
  groups: OuterGroups,
  least: Float64Array,
  values: Float64Array,
): boolean {
  const code = compiled();
  if (code === null) return false;
  const widest = first.reduce((most, from, t) => Math.max(most, t - from + 1), 0);
  const columns = [values, least, groups.factor, first, start, groups.groupStart, groups.block];
  const { places, room } = placeColumns(code, columns, 8 * 3 * SIDE * widest);
  const [v, l, f, firstAt, startAt, groupAt, blockAt] = places;
  code.takeOuter(v, startAt, firstAt, groups.groupStart.length - 1, groupAt, blockAt, f, room);
  code.factor(v, startAt, firstAt, first.length, l);
  takeColumn(code, v, values);
  return true;
}
