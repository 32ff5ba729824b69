/** Asks the server for the frames of a run, and asks again while they are being made. */
import { useEffect, useState } from 'preact/hooks';
import type { FramePack, Problem } from '../../../api.js';
import { ProblemError, getJson } from '../../api-client.js';

/** How often is asked while frames are being made, ms. */
const AGAIN_MS = 600;

/** What is known of the frames. */
export interface PackState {
  /** Null until the server has answered. */
  readonly pack: FramePack | null;
  readonly problem: Problem | null;
  /** Takes over a pack that the server gave elsewhere, and asks on from there. */
  readonly take: (pack: FramePack) => void;
}

/** The frames of a run, as far as they are made. @param isThere false where there can be none, which is then not asked */
export function useFramePack(id: number, isThere: boolean): PackState {
  const [pack, setPack] = useState<FramePack | null>(null);
  const [problem, setProblem] = useState<Problem | null>(null);
  const making = isThere && (pack === null || pack.state === 'making');
  useEffect(() => {
    setPack(null);
    setProblem(null);
  }, [id]);
  useEffect(() => {
    if (!making) return undefined;
    const stop = new AbortController();
    let timer: ReturnType<typeof setTimeout>;
    const ask = async (): Promise<void> => {
      try {
        const found = await getJson<FramePack>(`/api/runs/${id}/frames`, { signal: stop.signal });
        if (stop.signal.aborted) return;
        setProblem(null);
        setPack(found);
        if (found.state === 'making') timer = setTimeout(() => void ask(), AGAIN_MS);
      } catch (error) {
        if (!stop.signal.aborted && error instanceof ProblemError) setProblem(error.problem);
      }
    };
    void ask();
    return () => {
      stop.abort();
      clearTimeout(timer);
    };
  }, [id, making]);
  return { pack, problem, take: setPack };
}
