/** What the server tells as it happens: jobs and how far they are, what a measurement sees, changes of the log. One connection for the page. */
import { batch, signal } from '@preact/signals';
import type { About, Job, Look, PageEvents } from '../api.js';
import { getJson } from './api-client.js';
import { connection, noteConnection } from './connection.js';
import { joinTrace, type JoinedTrace } from './joined-trace.js';

export type { JoinedTrace } from './joined-trace.js';

/** All jobs, in order. */
export const jobs = signal<readonly Job[]>([]);

/** True once the jobs of the server are known. */
export const jobsKnown = signal(false);

/** What a measurement saw last, by job. */
export const looks = signal<ReadonlyMap<string, Look>>(new Map());

/** Angles so far, by job. */
export const traces = signal<ReadonlyMap<string, JoinedTrace>>(new Map());

/** Grows with each change of the log. */
export const logChanged = signal(0);

/** Between two tries where the browser has given up by itself, ms. */
const AGAIN_MS = 3000;

/** Listens for as long as the page is open. */
export function startEvents(): void {
  const source = new EventSource('/api/events');
  let isFirst = true;
  source.addEventListener('open', () => {
    noteConnection('open');
    // What happened in between was not heard.
    if (!isFirst || lostOnce) logChanged.value++;
    isFirst = false;
  });
  source.addEventListener('error', () => {
    noteConnection('lost');
    lostOnce = true;
    // As long as the browser tries by itself it is let to.
    if (source.readyState === EventSource.CLOSED) void askWhy();
  });
  const on = <Name extends keyof PageEvents>(name: Name, take: (data: PageEvents[Name]) => void): void =>
    source.addEventListener(name, ({ data }: MessageEvent<string>) => {
      const told = JSON.parse(data) as PageEvents[Name];
      batch(() => take(told));
    });
  on('jobs', takeAll);
  on('job', takeOne);
  on('gone', ({ job }) => {
    jobs.value = jobs.value.filter(({ id }) => id !== job);
    keepKnown();
  });
  on('look', (look) => (looks.value = new Map(looks.value).set(look.job, look)));
  on('trace', (piece) => {
    const { job } = piece;
    traces.value = new Map(traces.value).set(job, joinTrace(traces.value.get(job), piece));
  });
  on('log', () => logChanged.value++);
}

let lostOnce = false;

/** An answer was refused, or the browser has given up: a program that was started anew refuses every question, and is asked no more. */
async function askWhy(): Promise<void> {
  await getJson<About>('/api/about').catch(() => undefined);
  if (connection.peek() !== 'refused') setTimeout(startEvents, AGAIN_MS);
}

function takeAll(all: readonly Job[]): void {
  jobs.value = all;
  jobsKnown.value = true;
  keepKnown();
}

function takeOne(job: Job): void {
  const isNew = !jobs.value.some(({ id }) => id === job.id);
  jobs.value = isNew ? [...jobs.value, job] : jobs.value.map((one) => (one.id === job.id ? job : one));
}

/** Drops pictures and angles of jobs that are on the list no more. */
function keepKnown(): void {
  const ids = new Set(jobs.value.map(({ id }) => id));
  looks.value = new Map([...looks.value].filter(([id]) => ids.has(id)));
  traces.value = new Map([...traces.value].filter(([id]) => ids.has(id)));
}
