/** The setups over HTTP: listed, and taken off one by one. */
import { Hono } from 'hono';
import { answerProblem } from '../server/problem.js';
import type { Setups } from './open-setups.js';

/** `GET /setups`, `DELETE /setups/:id`; see `web/api.ts`. */
export function setupRoutes(setups: Setups): Hono {
  const routes = new Hono();
  routes.onError((error, context) => answerProblem(context, error));
  routes.get('/setups', async (context) => context.json(await setups.list()));
  routes.delete('/setups/:id', async (context) => {
    await setups.remove(context.req.param('id'));
    return context.body(null, 204);
  });
  return routes;
}
