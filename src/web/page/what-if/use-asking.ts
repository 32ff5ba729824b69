/** Keeps what is asked of a run, in the address too, and what it is answered. */
import { useCallback, useEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { LiveAnswer, LivePoint } from '../../../judge/index.js';
import type { RunSeries } from '../../../run/index.js';
import type { About, StoredRun } from '../../api.js';
import { place, setQuery } from '../router.js';
import { QuestionLine } from './question-line.js';
import { askedFrom, asksNothing, wishOf, withAsked, withoutMeasured, type Asked } from './asked.js';
import { rangesOf, type AskRanges } from './slider-ranges.js';

/** What the panel shows. */
export interface Asking {
  readonly ranges: AskRanges;
  readonly asked: Asked;
  /** Null until the first one has come. */
  readonly answer: LiveAnswer | null;
  /** Of the answer, or of one before while it is drawn anew. */
  readonly curve: readonly LivePoint[] | null;
  /** A question is on its way for longer than one notices. */
  readonly isWorking: boolean;
  readonly trouble: 'outOfReach' | 'failed' | null;
  /** Changes single things. */
  readonly change: (change: Asked) => void;
  /** Takes everything back. */
  readonly reset: () => void;
}

/** Longer than that and it is told that something is worked out. */
const NOTICED_MS = 250;
/** The address follows once the sliders rest: browsers take only so many changes. */
const ADDRESS_MS = 400;

/** Starts the worker with the run and asks it what the address asks. */
export function useAsking(
  stored: StoredRun,
  series: RunSeries,
  about: About,
  onAnswer: (answer: LiveAnswer) => void,
): Asking {
  const { run } = stored;
  const ranges = useMemo(() => rangesOf(run, series), [run, series]);
  const [asked, setAsked] = useState(() =>
    askedFrom(place.peek().query, ranges, Object.keys(about.deliveries)),
  );
  const [answer, setAnswer] = useState<LiveAnswer | null>(null);
  const [curve, setCurve] = useState<readonly LivePoint[] | null>(null);
  const [isWorking, setIsWorking] = useState(false);
  const [trouble, setTrouble] = useState<Asking['trouble']>(null);
  const line = useRef<QuestionLine | null>(null);
  const late = useRef<ReturnType<typeof setTimeout> | undefined>(undefined);
  const told = useRef(onAnswer);
  told.current = onAnswer;

  const arrived = (): void => {
    clearTimeout(late.current);
    setIsWorking(false);
  };

  useEffect(() => {
    const one = new QuestionLine(stored, series, about, {
      onAnswer: (came) => {
        arrived();
        setAnswer(came);
        setTrouble(null);
        told.current(came);
      },
      onCurve: setCurve,
      onOutOfReach: () => {
        arrived();
        setTrouble('outOfReach');
      },
      onFailed: () => {
        arrived();
        setTrouble('failed');
      },
    });
    line.current = one;
    return () => {
      line.current = null;
      one.close();
    };
  }, [run, series, about]);

  useEffect(() => {
    // Thumbs move more often than a picture is shown.
    const frame = requestAnimationFrame(() => {
      line.current?.ask(wishOf(asked, ranges));
      clearTimeout(late.current);
      late.current = setTimeout(() => setIsWorking(true), NOTICED_MS);
    });
    const address = setTimeout(() => {
      const next = withAsked(place.peek().query, asked);
      if (next.toString() !== place.peek().query.toString()) setQuery(next, { replace: true });
    }, ADDRESS_MS);
    return () => {
      cancelAnimationFrame(frame);
      clearTimeout(address);
    };
  }, [asked, ranges, about]);

  useEffect(() => () => clearTimeout(late.current), []);

  const change = useCallback(
    (one: Asked) => setAsked((before) => withoutMeasured({ ...before, ...one }, ranges)),
    [ranges],
  );
  const reset = useCallback(() => setAsked((before) => (asksNothing(before) ? before : {})), []);
  return { ranges, asked, answer, curve, isWorking, trouble, change, reset };
}
