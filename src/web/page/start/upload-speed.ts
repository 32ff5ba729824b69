/** Speed of an upload and its time left, from the bytes that were sent by certain moments. */

/** What was sent by when. */
export interface SentMark {
  readonly atS: number;
  readonly bytes: number;
}

/** How fast it goes. */
export interface UploadPace {
  /** Null before two moments far enough apart are known. */
  readonly bytesPerS: number | null;
  readonly leftS: number | null;
}

/** Marks older than this no longer count, seconds: a network that has become slow shows within it. */
const WINDOW_S = 8;
/** Less time than this tells no speed. */
const LEAST_S = 0.5;

/** Marks with a new one, without those that no longer count; the first and one older than the window stay as its start. */
export function marked(marks: readonly SentMark[], mark: SentMark): readonly SentMark[] {
  const all = [...marks, mark];
  const first = all.findLastIndex(({ atS }) => mark.atS - atS >= WINDOW_S);
  return first > 0 ? all.slice(first) : all;
}

/** The pace that marks tell. @param allBytes of the whole file */
export function paceOf(marks: readonly SentMark[], allBytes: number): UploadPace {
  const first = marks.at(0);
  const last = marks.at(-1);
  if (first === undefined || last === undefined) return { bytesPerS: null, leftS: null };
  const spanS = last.atS - first.atS;
  const bytesPerS = spanS >= LEAST_S ? (last.bytes - first.bytes) / spanS : null;
  const leftS = bytesPerS !== null && bytesPerS > 0 ? (allBytes - last.bytes) / bytesPerS : null;
  return { bytesPerS, leftS };
}
