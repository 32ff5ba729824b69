/** How a symmetric matrix lies in memory that is zero outside an envelope; rows and columns come in blocks of six. */

/** Rows and columns of a block. */
export const SIDE = 6;

/** Where the rows lie: those of block t hold the columns from block first[t] to block t, row after row from start[t] on. */
export interface EnvelopeRows {
  /** First block of columns of each block of rows, its own at the latest. */
  readonly first: Int32Array;
  /** Place of the first number of each block of rows. */
  readonly start: Int32Array;
  /** Numbers in all. */
  readonly size: number;
}

/** Rows one after the other. @param first see {@link EnvelopeRows} */
export function envelopeRows(first: Int32Array): EnvelopeRows {
  const start = new Int32Array(first.length);
  let size = 0;
  for (let t = 0; t < first.length; t++) {
    start[t] = size;
    size += SIDE * SIDE * (t - first[t] + 1);
  }
  return { first, start, size };
}

/** A sum of outer products F F^T, each over some blocks: group g holds the entries groupStart[g]..groupStart[g + 1] - 1. */
export interface OuterGroups {
  readonly groupStart: Int32Array;
  /** Block of each entry, rising within a group; every pair of a group must lie within the envelope. */
  readonly block: Int32Array;
  /** 18 numbers an entry: the six rows of the block, three columns each. */
  readonly factor: Float64Array;
}
