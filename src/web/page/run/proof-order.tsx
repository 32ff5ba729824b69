/** Orders the proof clip of a run and says how far it is. */
import { useEffect, useState } from 'preact/hooks';
import { figure } from '../../../run/index.js';
import { proofOrderTexts } from '../../../texts/index.js';
import type { Job, JobOrder, Problem } from '../../api.js';
import { isActive } from '../../is-active.js';
import { ProblemError, sendJson } from '../api-client.js';
import { jobs } from '../events.js';
import { whenWords } from '../log/run-words.js';
import { ProblemNote } from '../parts/problem-note.js';

type ProofOrderOf = Extract<JobOrder, { kind: 'proof' }>;
type Layout = ProofOrderOf['layout'];
type Window = ProofOrderOf['window'];

const LAYOUTS = Object.keys(proofOrderTexts.layouts) as Layout[];
const WINDOWS = Object.keys(proofOrderTexts.windows) as Window[];

/** The order, the work, and the link. @param asked whether something else than the measured run is shown beside it */
export function ProofOrder({ id, asked }: { readonly id: number; readonly asked: boolean }) {
  const [layout, setLayout] = useState<Layout>('beside');
  const [window, setWindow] = useState<Window>('centred');
  const [problem, setProblem] = useState<Problem | null>(null);
  const [sending, setSending] = useState(false);
  const job = jobs.value.findLast(({ kind, run }) => kind === 'proof' && run === id) ?? null;
  const works = job !== null && isActive(job);
  const told = async (work: () => Promise<unknown>): Promise<void> => {
    setProblem(null);
    setSending(true);
    try {
      await work();
    } catch (error) {
      if (!(error instanceof ProblemError)) throw error;
      setProblem(error.problem);
    } finally {
      setSending(false);
    }
  };
  const order = (): Promise<void> =>
    told(() => sendJson('POST', '/api/jobs', { kind: 'proof', run: id, layout, window } satisfies JobOrder));
  return (
    <section class="proof" aria-labelledby="proof">
      <h2 id="proof">{proofOrderTexts.title}</h2>
      <p>
        {proofOrderTexts.what} {asked && proofOrderTexts.asMeasured}
      </p>
      <div class="proof-order">
        <Choice
          label={proofOrderTexts.layout}
          names={LAYOUTS}
          words={proofOrderTexts.layouts}
          value={layout}
          set={setLayout}
        />
        <Choice
          label={proofOrderTexts.window}
          names={WINDOWS}
          words={proofOrderTexts.windows}
          value={window}
          set={setWindow}
        />
        <button type="button" class="main" disabled={works || sending} onClick={() => void order()}>
          {proofOrderTexts.render}
        </button>
      </div>
      {job !== null && (
        <ProofProgress
          id={id}
          job={job}
          stop={() => void told(() => sendJson('DELETE', `/api/jobs/${job.id}`))}
        />
      )}
      {problem !== null && <ProblemNote problem={problem} />}
    </section>
  );
}

function ProofProgress({
  id,
  job,
  stop,
}: {
  readonly id: number;
  readonly job: Job;
  readonly stop: () => void;
}) {
  switch (job.state) {
    case 'done':
      return <ReadyProof file={`/api/runs/${id}/files/proof.mp4`} endedAt={job.endedAt} />;
    case 'failed':
      return job.problem && <ProblemNote problem={job.problem} />;
    case 'cancelled':
      return <p role="status">{proofOrderTexts.cancelled}</p>;
    case 'queued':
    case 'running': {
      const { done, total, leftS, ahead } = job;
      return (
        <div class="proof-progress">
          {job.state === 'running' && <progress value={total === null ? undefined : done} max={total ?? 1} />}
          <p role="status">
            {job.state === 'queued' ? proofOrderTexts.waiting(ahead) : proofOrderTexts.rendering(done, total)}{' '}
            {leftS !== null && proofOrderTexts.left(figure(Math.max(1, Math.round(leftS))))}
          </p>
          <button type="button" onClick={stop}>
            {proofOrderTexts.stop}
          </button>
        </div>
      );
    }
  }
}

/** A proof that can be opened, with its size and when it was made. */
function ReadyProof({ file, endedAt }: { readonly file: string; readonly endedAt: string | null }) {
  const [sizeBytes, setSizeBytes] = useState<number | null>(null);
  useEffect(() => {
    const stop = new AbortController();
    fetch(file, { method: 'HEAD', signal: stop.signal }).then(
      ({ ok, headers }) => setSizeBytes(ok ? Number(headers.get('Content-Length')) || null : null),
      () => undefined, // the link stands without its size
    );
    return () => stop.abort();
  }, [file, endedAt]);
  return (
    <p role="status">
      {proofOrderTexts.ready([
        ...(sizeBytes === null ? [] : [proofOrderTexts.megabytes(figure(sizeBytes / 1e6))]),
        ...(endedAt === null ? [] : [whenWords({ createdAt: endedAt })]),
      ])}{' '}
      <a class="proof-link" href={file} target="_blank" rel="noopener">
        {proofOrderTexts.open}
      </a>
    </p>
  );
}

function Choice<Name extends string>({
  label,
  names,
  words,
  value,
  set,
}: {
  readonly label: string;
  readonly names: readonly Name[];
  readonly words: Readonly<Record<Name, string>>;
  readonly value: Name;
  readonly set: (name: Name) => void;
}) {
  return (
    <label>
      <span>{label}</span>
      <select value={value} onChange={(event) => set(event.currentTarget.value as Name)}>
        {names.map((name) => (
          <option key={name} value={name}>
            {words[name]}
          </option>
        ))}
      </select>
    </label>
  );
}
