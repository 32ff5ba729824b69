/** The whole server as a function from request to answer: guard, headers, the page, the interface under /api. No socket is opened here. */
import type { IncomingMessage } from 'node:http';
import { Hono, type Context, type MiddlewareHandler } from 'hono';
import { bodyLimit } from 'hono/body-limit';
import { serverTexts } from '../../texts/index.js';
import { guard, type AccessRules } from './access.js';
import { NO_ACCESS_STYLE, NO_ACCESS_STYLE_PATH, noAccessPage } from './no-access-page.js';
import { securityHeaders } from './headers.js';
import type { PageFiles } from './page-files.js';
import { WebProblem, answerProblem } from './problem.js';

/** What the server is put together from. */
export interface AppParts {
  readonly access: AccessRules;
  readonly files: PageFiles;
  /** Each is mounted under /api. */
  readonly routes: readonly Hono[];
  /** Told of what is nobody's mistake but ours. */
  readonly onFault: (error: unknown) => void;
}

/** Bodies of everything but clips: orders and changes are small. */
const MOST_BODY_BYTES = 256 * 1024;

/** Makes it. */
export function createApp({ access, files, routes, onFault }: AppParts): Hono {
  const app = new Hono();
  app.use(securityHeaders());
  app.use(guard(access));
  app.use('/api/*', limitOrders);
  for (const route of routes) app.route('/api', route);
  app.all('/api/*', () => {
    throw new WebProblem(404, 'not-there', serverTexts.notThere);
  });
  app.get(NO_ACCESS_STYLE_PATH, (context) =>
    context.body(NO_ACCESS_STYLE, 200, { 'Content-Type': 'text/css; charset=utf-8' }),
  );
  app.get('/assets/:name', (context) => files.answer(context, context.req.param('name')));
  // Every other address is one of the page, which finds out which.
  app.get('*', (context) => files.answer(context, ''));
  app.notFound((context) =>
    answer(context, new WebProblem(405, 'method-unknown', serverTexts.methodUnknown)),
  );
  app.onError((error, context) => {
    const response = answer(context, error);
    if (response.status === 500 && !hasGone(context)) onFault(error);
    return response;
  });
  return app;
}

const limitBody: MiddlewareHandler = bodyLimit({
  maxSize: MOST_BODY_BYTES,
  onError: () => {
    throw new WebProblem(413, 'body-too-large', serverTexts.bodyTooLarge);
  },
});

/** A clip is as large as it is: its route counts what it takes. */
const limitOrders: MiddlewareHandler = (context, next) =>
  context.req.method === 'PUT' ? next() : limitBody(context, next);

/** Whether the asker went away in the middle: what fails then is nobody's fault. */
function hasGone({ env, req }: Context): boolean {
  const { incoming } = (env ?? {}) as { incoming?: IncomingMessage };
  return req.raw.signal.aborted || (incoming?.destroyed === true && !incoming.complete);
}

/** People get a page where they typed an address, programs a problem. */
function answer(context: Context, error: unknown): Response {
  const isTyped =
    !context.req.path.startsWith('/api/') && /text\/html/.test(context.req.header('Accept') ?? '');
  return isTyped && error instanceof WebProblem
    ? context.html(noAccessPage(serverTexts.titles[error.status], error.message), error.status)
    : answerProblem(context, error);
}
