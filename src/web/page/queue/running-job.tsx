/** A job that runs: picture and angles as they come, stage, pace, time left, and how to stop it. */
import { useEffect, useState } from 'preact/hooks';
import { figure } from '../../../run/index.js';
import { workTexts } from '../../../texts/index.js';
import type { ClipEntry, Job, Look } from '../../api.js';
import { getJson } from '../api-client.js';
import type { JoinedTrace } from '../joined-trace.js';
import { readStretch, timeOfFrame } from '../../stretch.js';
import { removeJob } from './job-orders.js';
import { LookPicture } from './look-picture.js';
import { TraceChart } from './trace-chart.js';
import type { Range } from './trace-scale.js';
import { useSteadyLeft } from './use-steady-left.js';

/** Shows it. */
export function RunningJob({
  job,
  look,
  trace,
}: {
  readonly job: Job;
  readonly look: Look | null;
  readonly trace: JoinedTrace | null;
}) {
  const stretchS = useStretch(job);
  return (
    <article class="job running">
      <header class="job-head">
        <h3 class="job-name">{job.kind === 'proof' ? workTexts.proofOf(job.clipName) : job.clipName}</h3>
        <button type="button" aria-label={workTexts.cancelOf(job.clipName)} onClick={() => removeJob(job)}>
          {workTexts.cancel}
        </button>
      </header>
      {job.isAnew && <p class="legend">{workTexts.anew}</p>}
      <Progress job={job} />
      {job.kind === 'measure' && (
        <div class="job-live">
          <LookPicture look={look} name={job.clipName} />
          <figure class="job-trace">
            <figcaption>
              <b>{workTexts.trace}</b> <span class="legend">{workTexts.traceRough}</span>
            </figcaption>
            <TraceChart {...{ trace, stretchS }} name={job.clipName} />
          </figure>
        </div>
      )}
    </article>
  );
}

function Progress({ job }: { readonly job: Job }) {
  const left = useSteadyLeft(job.leftS);
  const countsFrames = job.stage === 'track' || job.stage === 'render';
  return (
    <div class="job-progress">
      <progress value={job.share} max={1} aria-label={workTexts.progressOf(job.clipName)} />
      <p class="job-figures">
        <span class="job-stage">{job.stage === null ? workTexts.starting : workTexts.stages[job.stage]}</span>
        <span>
          {countsFrames && job.total !== null
            ? workTexts.frames(job.done, job.total)
            : workTexts.share(Math.floor(100 * job.share))}
        </span>
        <span>{job.framesPerS === null ? '' : workTexts.framesPerS(figure(job.framesPerS))}</span>
        <span>{left === null ? workTexts.leftUnknown : workTexts.left(left)}</span>
      </p>
    </div>
  );
}

/** The stretch of the clip that is measured, seconds; null until the clip is known, and where it is not known any more. */
function useStretch({ clip: id, settings }: Job): Range | null {
  const [clip, setClip] = useState<ClipEntry | null>(null);
  useEffect(() => {
    let isCurrent = true;
    setClip(null);
    if (id === null) return;
    getJson<ClipEntry>(`/api/clips/${id}`).then(
      (found) => isCurrent && setClip(found),
      () => undefined,
    );
    return () => {
      isCurrent = false;
    };
  }, [id]);
  if (clip === null) return null;
  const { in: from, out: to } = settings;
  const typed = { ...(from !== undefined && { in: from }), ...(to !== undefined && { out: to }) };
  const { inFrame, outFrame } = readStretch(typed, clip);
  return [timeOfFrame(inFrame, clip), timeOfFrame(Math.max(outFrame, inFrame + 1), clip)];
}
