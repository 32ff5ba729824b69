/** Jobs that wait and jobs that have ended, a row each. */
import { workTexts } from '../../../texts/index.js';
import type { Job } from '../../api.js';
import { GradeMark } from '../parts/grade-mark.js';
import { Link } from '../parts/link.js';
import { runPath } from '../routes.js';
import { removeJob, tryAgain } from './job-orders.js';

/** One that waits. */
export function WaitingJob({ job, isNext }: { readonly job: Job; readonly isNext: boolean }) {
  return (
    <li class="job-row">
      <span class="job-name">{nameOf(job)}</span>
      <span class="job-state">
        {isNext ? workTexts.next : workTexts.ahead(job.ahead)}
        {job.isAnew && <span class="legend"> {workTexts.anew}</span>}
      </span>
      <div class="job-buttons">
        <button type="button" aria-label={workTexts.cancelOf(job.clipName)} onClick={() => removeJob(job)}>
          {workTexts.cancel}
        </button>
      </div>
    </li>
  );
}

/** One that has ended: what came of it, or why nothing did. */
export function EndedJob({ job }: { readonly job: Job }) {
  const { state, kind, run, clip } = job;
  return (
    <li class={`job-row ${state}`}>
      <span class="job-name">{nameOf(job)}</span>
      <Outcome job={job} />
      <div class="job-buttons">
        {run !== null && (
          <Link
            class={state === 'done' && kind === 'measure' ? 'button main' : 'button'}
            href={runPath(run)}
            aria-label={kind === 'measure' ? workTexts.openOf(job.clipName) : undefined}
          >
            {kind === 'measure' ? workTexts.open : workTexts.openRun}
          </Link>
        )}
        {state !== 'done' && kind === 'measure' && clip !== null && (
          <button
            type="button"
            aria-label={workTexts.againOf(job.clipName)}
            onClick={() => tryAgain({ ...job, clip })}
          >
            {workTexts.again}
          </button>
        )}
        <button type="button" aria-label={workTexts.dismissOf(job.clipName)} onClick={() => removeJob(job)}>
          {workTexts.dismiss}
        </button>
      </div>
    </li>
  );
}

function Outcome({ job: { state, kind, grade, sentence, problem } }: { readonly job: Job }) {
  if (state === 'failed')
    return (
      <p class="job-state">
        <b>{workTexts.failed}.</b> {problem?.detail ?? sentence ?? ''}
      </p>
    );
  if (state === 'cancelled')
    return (
      <p class="job-state">
        <b>{workTexts.cancelled}</b>
      </p>
    );
  return (
    <p class="job-state">
      <b>{kind === 'measure' && grade !== null ? <GradeMark grade={grade} /> : workTexts.proofDone}</b>{' '}
      {sentence ?? ''}
    </p>
  );
}

/** The clip, or that it is a proof of it. */
export function nameOf({ kind, clipName }: Job): string {
  return kind === 'proof' ? workTexts.proofOf(clipName) : clipName;
}
