/** Advice and sections of the report, as the server writes them, with their charts at work. */
import { useEffect, useState } from 'preact/hooks';
import type { RunDocument } from '../../../run/index.js';
import { runViewTexts } from '../../../texts/index.js';
import type { Problem, ReportParts } from '../../api.js';
import { ProblemError, getJson } from '../api-client.js';
import { ProblemNote } from '../parts/problem-note.js';
import { said } from '../parts/said.js';
import { ServerMarkup } from '../parts/server-markup.js';

/** What else to do with a run of which there is no report any more; nothing where there is no more. */
export function StoredAdvice({ run: { verdict, units } }: { readonly run: RunDocument }) {
  const others = verdict.advice.slice(1);
  if (others.length === 0) return null;
  return (
    <section class="run-advice" aria-labelledby="advice">
      <h2 id="advice">{runViewTexts.adviceTitle}</h2>
      <ol start={2}>
        {others.map(({ text }) => (
          <li key={text}>{said(text, units)}</li>
        ))}
      </ol>
    </section>
  );
}

/** The parts of the report of a run; they are asked for once. @param props.hasMore whether there is more to do than what is done first */
export function ReportBody({ id, hasMore }: { readonly id: number; readonly hasMore: boolean }) {
  const [parts, setParts] = useState<ReportParts | null>(null);
  const [problem, setProblem] = useState<Problem | null>(null);
  useEffect(() => {
    const stop = new AbortController();
    setParts(null);
    setProblem(null);
    getJson<ReportParts>(`/api/runs/${id}/report`, { signal: stop.signal }).then(
      (found) => {
        if (!stop.signal.aborted) setParts(found);
      },
      (error: unknown) => {
        if (!stop.signal.aborted && error instanceof ProblemError) setProblem(error.problem);
      },
    );
    return () => stop.abort();
  }, [id]);
  if (problem !== null) return <ProblemNote problem={problem} />;
  if (parts === null)
    return (
      <p class="muted" role="status">
        {runViewTexts.reportLoading}
      </p>
    );
  return (
    <>
      <section class="run-advice" aria-label={runViewTexts.adviceTitle}>
        {hasMore && <h2>{runViewTexts.adviceTitle}</h2>}
        <ServerMarkup markup={parts.advice} units={parts.units} />
      </section>
      <div class="run-sections">
        <ServerMarkup markup={parts.sections} units={parts.units} />
      </div>
    </>
  );
}
