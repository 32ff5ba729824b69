/** The result of one run: verdict with what can be asked of it, the clip, and the report below. */
import { useState } from 'preact/hooks';
import type { LiveAnswer } from '../../../judge/index.js';
import { runViewTexts } from '../../../texts/index.js';
import type { About, StoredRun } from '../../api.js';
import { about } from '../about.js';
import { Busy } from '../parts/busy.js';
import { Link } from '../parts/link.js';
import { ProblemNote } from '../parts/problem-note.js';
import { useTitle } from '../parts/use-title.js';
import { WhatIfPanel } from '../what-if/what-if-panel.js';
import { Again } from './again.js';
import { DoFirst } from './do-first.js';
import { Exports } from './exports.js';
import { Figures } from './figures.js';
import { RunNeighbours } from './neighbours.js';
import { ProofOrder } from './proof-order.js';
import { ReportBody, StoredAdvice } from './report-body.js';
import { RunPicture } from './run-picture.js';
import { Sheet } from './sheet.js';
import { useStoredRun } from './use-stored-run.js';
import { Verdict } from './verdict.js';

/** A view of the page: one run of the log. @param props.id its number */
export function RunView({ id }: { readonly id: number }) {
  const { stored, problem, askAgain } = useStoredRun(id);
  const known = about.value;
  if (problem !== null && stored === null)
    return (
      <main class="run">
        {/* What is not in the log does not come by asking again. */}
        <ProblemNote problem={problem} {...(problem.status !== 404 && { retry: askAgain })} />
        <Link class="button" href="/log">
          {runViewTexts.backToLog}
        </Link>
      </main>
    );
  if (stored === null || known === null)
    return (
      <main class="run">
        <Busy what={runViewTexts.loading} />
      </main>
    );
  return <Result key={id} stored={stored} about={known} askAgain={askAgain} />;
}

/** A run that is there. */
function Result({
  stored,
  about,
  askAgain,
}: {
  readonly stored: StoredRun;
  readonly about: About;
  readonly askAgain: () => void;
}) {
  const { run, series, row } = stored;
  const { id } = row;
  const [answer, setAnswer] = useState<LiveAnswer | null>(null);
  const hasVerdict = run.verdict.grade !== 'unmeasurable';
  useTitle(runViewTexts.title(run.clip.file));
  return (
    <main class="run">
      <div class="run-head">
        <p class="clip-name" translate={false}>
          {run.clip.file}
        </p>
        <RunNeighbours id={id} />
      </div>
      <div class="run-top">
        <Verdict run={run} answer={answer} />
        <DoFirst run={run} />
        {hasVerdict && <Figures run={run} answer={answer} />}
        <RunPicture stored={stored} view={answer?.view ?? null} onClipFound={askAgain} />
        <div class="run-ask">
          {hasVerdict && series !== null && (
            <WhatIfPanel stored={stored} about={about} onAnswer={setAnswer} />
          )}
          {series === null && <p class="note">{runViewTexts.noSeries}</p>}
          {!hasVerdict && series !== null && <p class="note">{runViewTexts.unmeasurable}</p>}
        </div>
      </div>
      <div class="run-more">
        <div>
          {(series !== null || row.reportFolder !== null) && <Exports id={id} hasWindow={hasVerdict} />}
          <div class="again">
            <Again stored={stored} about={about} />
          </div>
        </div>
        {hasVerdict && series !== null && row.clipKnown && (
          <ProofOrder id={id} asked={answer?.changed === true} />
        )}
        <Sheet id={id} pass={row.pass} run={run} />
      </div>
      {series === null ? (
        <StoredAdvice run={run} />
      ) : (
        <ReportBody id={id} hasMore={run.verdict.advice.length > 1} />
      )}
    </main>
  );
}
