/** Names cases and makes their clips: "SEED:INDEX" for a random one, "extreme:NAME" for one of the list. */
import path from 'node:path';
import type { SoundClip } from './corpus.js';
import { EXTREMES } from './extremes.js';
import type { Ending } from './judge-case.js';
import { mutate, type Mutant } from './mutate.js';

/** A case, ready to be written. */
export interface FuzzCase extends Mutant {
  /** The clip it was made from. */
  readonly clip: SoundClip;
  readonly extension: string;
}

/** What is not as an extreme demands it; null for random cases and where all is. */
export function unexpected(
  id: string,
  { outcome, warnings }: Pick<Ending, 'outcome' | 'warnings'>,
): string | null {
  const extreme = EXTREMES.find(({ name }) => id === `extreme:${name}`);
  if (extreme?.ends !== undefined && outcome !== extreme.ends)
    return `ended as ${outcome} and not as ${extreme.ends}`;
  if (extreme?.warns && !extreme.warns.some((code) => warnings?.includes(code)))
    return `no warning ${extreme.warns.join(' or ')}`;
  return null;
}

/** Every clip of the corpus has its turn. @throws RangeError for a name that is none */
export function makeCase(id: string, clips: readonly SoundClip[]): FuzzCase {
  const [, name] = /^extreme:(.+)$/.exec(id) ?? [];
  const extreme = EXTREMES.find((one) => one.name === name);
  if (extreme) {
    const clip = clips.find((one) => one.name === extreme.from) ?? clips[0];
    const bytes = extreme.make(Buffer.from(clip.bytes));
    return { clip, extension: path.extname(clip.file), bytes, steps: [extreme.name] };
  }
  const [, seed, index] = /^(\d+):(\d+)$/.exec(id) ?? [];
  if (index === undefined) throw new RangeError(`"${id}" names no case; write SEED:INDEX or extreme:NAME`);
  const clip = clips[Number(index) % clips.length];
  return { clip, extension: path.extname(clip.file), ...mutate(clip, clips, Number(seed), Number(index)) };
}
