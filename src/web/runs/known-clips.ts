/** Which of the clips of a list are known to the server, asked once each and remembered for a moment. */
import type { ClipLookup } from '../server/context.js';

/** A list that is searched letter by letter asks for the same clips again and again. */
const REMEMBERED_MS = 5000;

/** Answers by checksum. */
export class KnownClips {
  private readonly answers = new Map<string, { readonly atMs: number; readonly isKnown: Promise<boolean> }>();

  constructor(
    private readonly clips: Pick<ClipLookup, 'ofSha256'>,
    private readonly nowMs: () => number = () => performance.now(),
  ) {}

  /** Whether the clip is known; asks now, whatever was answered before. */
  ask(sha256: string): Promise<boolean> {
    const isKnown = this.clips.ofSha256(sha256).then((clip) => clip !== null);
    this.answers.set(sha256, { atMs: this.nowMs(), isKnown });
    isKnown.catch(() => this.answers.delete(sha256));
    return isKnown;
  }

  /** Those of the clips that are known. */
  async among(sha256s: Iterable<string>): Promise<Set<string>> {
    const asked = [...new Set(sha256s)];
    const known = await Promise.all(asked.map((sha256) => this.remembered(sha256)));
    return new Set(asked.filter((_, i) => known[i]));
  }

  private remembered(sha256: string): Promise<boolean> {
    const answer = this.answers.get(sha256);
    return answer !== undefined && this.nowMs() - answer.atMs < REMEMBERED_MS
      ? answer.isKnown
      : this.ask(sha256);
  }
}
