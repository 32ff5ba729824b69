/** Brings samples from one depth and range to another in one rounding, by the scales of ITU-T H.273 section 8.3 (from memory). */

/** What the levels of a plane mean. */
export interface LevelScale {
  readonly bitDepth: number;
  readonly range: 'tv' | 'pc';
}

/**
 * The new level of each old one, rounded to nearest and held within the new depth; null when nothing changes.
 *
 * @param kind chroma levels count from the middle of the scale, luma from black
 * @example levelTable({ bitDepth: 12, range: 'tv' }, { bitDepth: 10, range: 'tv' }, 'luma')?.[3760] // 940
 */
export function levelTable(from: LevelScale, to: LevelScale, kind: 'luma' | 'chroma'): Uint16Array | null {
  if (from.bitDepth === to.bitDepth && from.range === to.range) return null;
  const old = zeroAndSpan(from, kind);
  const wanted = zeroAndSpan(to, kind);
  const highest = 2 ** to.bitDepth - 1;
  return Uint16Array.from({ length: 2 ** from.bitDepth }, (_, level) => {
    const exact = wanted.zero + ((level - old.zero) * wanted.span) / old.span;
    return Math.max(0, Math.min(highest, Math.round(exact)));
  });
}

/** Level of black (of grey for chroma), and levels from there to white (over all of chroma). */
function zeroAndSpan(
  { bitDepth, range }: LevelScale,
  kind: 'luma' | 'chroma',
): { zero: number; span: number } {
  const unit = 2 ** (bitDepth - 8);
  const middle = 128 * unit;
  if (range === 'pc') return { zero: kind === 'luma' ? 0 : middle, span: 2 ** bitDepth - 1 };
  return kind === 'luma' ? { zero: 16 * unit, span: 219 * unit } : { zero: middle, span: 224 * unit };
}

/** Levels looked up in a table; levels beyond the table are taken for its last. */
export function applyLevels(
  samples: ArrayLike<number>,
  table: Uint16Array,
  bytesPerSample: 1 | 2,
): Uint8Array | Uint16Array {
  const last = table.length - 1;
  const levels = bytesPerSample === 1 ? new Uint8Array(samples.length) : new Uint16Array(samples.length);
  for (let i = 0; i < samples.length; i++) levels[i] = table[Math.min(last, samples[i])];
  return levels;
}
