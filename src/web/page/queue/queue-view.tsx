/** What the program is doing: the measurement that runs with its picture and angles, what waits, what came of those that ended. */
import { useEffect, useState } from 'preact/hooks';
import { verdictTexts, workTexts } from '../../../texts/index.js';
import type { Job } from '../../api.js';
import { jobs, jobsKnown, looks, traces } from '../events.js';
import { Link } from '../parts/link.js';
import { go } from '../router.js';
import { runPath } from '../routes.js';
import { orderFault, removeJob } from './job-orders.js';
import { endedOrder, jobLists } from './job-lists.js';
import { EndedJob, WaitingJob, nameOf } from './job-rows.js';
import { ordered } from './ordered.js';
import { RunningJob } from './running-job.js';

/** Shows it. */
export function WorkView() {
  const { running, queued, ended } = jobLists(jobs.value);
  const said = useEndOfOrder();
  const isNothing = jobsKnown.value && jobs.value.length === 0;
  return (
    <main class="work">
      <h1 class="view-title">{workTexts.title}</h1>
      <p class="unseen" role="status" aria-live="polite">
        {said}
      </p>
      <p class="legend">
        {running.length + queued.length > 0 ? workTexts.mayClose : isNothing ? workTexts.nothing : ''}{' '}
        {jobsKnown.value && ended.length === 0 && <Link href="/log">{workTexts.before}</Link>}
      </p>
      {orderFault.value !== null && (
        <p class="fault" role="alert">
          {orderFault.value}
        </p>
      )}
      {running.length > 0 && (
        <section class="work-part">
          <h2>{workTexts.running}</h2>
          {running.map((job) => (
            <RunningJob
              key={job.id}
              job={job}
              look={looks.value.get(job.id) ?? null}
              trace={traces.value.get(job.id) ?? null}
            />
          ))}
        </section>
      )}
      {queued.length > 0 && (
        <section class="work-part">
          <h2>{workTexts.waiting}</h2>
          <ul class="job-rows">
            {queued.map((job, i) => (
              <WaitingJob key={job.id} job={job} isNext={i === 0} />
            ))}
          </ul>
        </section>
      )}
      {ended.length > 0 && (
        <section class="work-part">
          <header class="job-head">
            <h2>{workTexts.ended}</h2>
            {ended.length > 1 && (
              <button type="button" onClick={() => ended.forEach(removeJob)}>
                {workTexts.dismissAll}
              </button>
            )}
          </header>
          <ul class="job-rows">
            {ended.map((job) => (
              <EndedJob key={job.id} job={job} />
            ))}
          </ul>
        </section>
      )}
      <p class="work-start">
        <Link class={isNothing ? 'button main' : 'button'} href="/">
          {workTexts.toStart}
        </Link>
      </p>
    </main>
  );
}

/** Tells when the work that was ordered last has ended, and goes on to the result of a clip that was ordered alone. @returns what is said */
function useEndOfOrder(): string {
  const [said, setSaid] = useState('');
  const job = endedOrder(ordered.value, jobs.value);
  useEffect(() => {
    if (job === null) return;
    const isAlone = ordered.peek().length === 1;
    ordered.value = [];
    setSaid(wordsOn(job));
    if (isAlone && job.kind === 'measure' && job.state === 'done' && job.run !== null) go(runPath(job.run));
  }, [job?.id]);
  return said;
}

function wordsOn(job: Job): string {
  if (job.state === 'failed') return workTexts.didFail(nameOf(job), job.problem?.detail ?? '');
  const grade = job.grade === null ? workTexts.proofDone : verdictTexts.grades[job.grade];
  return job.state === 'done' ? workTexts.done(nameOf(job), grade, job.sentence ?? '') : '';
}
