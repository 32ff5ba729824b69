/** The queue under /jobs: the list, orders, and stopping. */
import { Hono } from 'hono';
import type { ClipEntry, JobOrder } from '../api.js';
import { WebProblem } from '../server/problem.js';
import { readStretch } from '../stretch.js';
import { readOrder } from './job-order.js';
import type { JobQueue } from './job-queue.js';

/** Where it is looked up what a clip is. */
interface ClipFacts {
  /** @throws WebProblem where it is not known, not there, or another by now */
  entry(id: string): Promise<ClipEntry>;
}

/** Routes of a queue, relative to /api. An order is answered when it is safe on the disk. */
export function jobRoutes(queue: JobQueue, clips: ClipFacts): Hono {
  return new Hono()
    .get('/jobs', (context) => context.json(queue.list()))
    .post('/jobs', async (context) => {
      const body: unknown = await context.req.json().catch(() => null);
      const order = readOrder(body);
      if (order.kind === 'measure') await refuseWrongStretch(order, clips);
      const job = queue.add(order);
      await queue.saved();
      return context.json(job, 201);
    })
    .delete('/jobs/:id', (context) => {
      queue.stop(context.req.param('id'));
      return context.body(null, 204);
    });
}

/** In and out as the form reads them, before the clip has waited for its turn. @throws WebProblem 422 `range-invalid` */
async function refuseWrongStretch(
  { clip, settings }: JobOrder & { kind: 'measure' },
  clips: ClipFacts,
): Promise<void> {
  const { in: from, out: to } = settings;
  const typed = { ...(from !== undefined && { in: from }), ...(to !== undefined && { out: to }) };
  const { inFault, outFault, tooShort } = readStretch(typed, await clips.entry(clip));
  const fault = inFault ?? outFault ?? tooShort;
  if (fault !== null) throw new WebProblem(422, 'range-invalid', fault);
}
