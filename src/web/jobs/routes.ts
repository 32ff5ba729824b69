/** The queue under /jobs: the list, orders, and stopping. */
import { Hono } from 'hono';
import { readOrder } from './job-order.js';
import type { JobQueue } from './job-queue.js';

/** Routes of a queue, relative to /api. */
export function jobRoutes(queue: JobQueue): Hono {
  return new Hono()
    .get('/jobs', (context) => context.json(queue.list()))
    .post('/jobs', async (context) => {
      const body: unknown = await context.req.json().catch(() => null);
      return context.json(queue.add(readOrder(body)), 201);
    })
    .delete('/jobs/:id', (context) => {
      queue.stop(context.req.param('id'));
      return context.body(null, 204);
    });
}
