/** Paths of the runs of the log: the list, one run, its sheet, pictures, report and files. */
import { Hono, type Context } from 'hono';
import { PRINT_PAPERS, type PrintPaper } from '../../report/index.js';
import { WebProblem } from '../server/problem.js';
import { disposition, fileNameOf, typeOf } from './attachment.js';
import { bodyOf, changeOfBody, idsOfBody, queryOfAddress, runId } from './requests.js';
import { NAMED_FILES, type FileSource } from './run-reports.js';
import type { Runs } from './runs.js';
import { sendFile } from './send-file.js';

/**
 * Policy of a report that is opened as it stands: its own script, which its policy in the file names, in a place of its own that
 * cannot ask this server for anything.
 */
const REPORT_POLICY = Object.entries({
  'default-src': ["'none'"],
  'script-src': ["'unsafe-inline'"],
  'style-src': ["'unsafe-inline'"],
  'img-src': ['data:'],
  'base-uri': ["'none'"],
  'form-action': ["'none'"],
  'frame-ancestors': ["'none'"],
  sandbox: ['allow-scripts', 'allow-modals'],
})
  .map(([name, values]) => [name, ...values].join(' '))
  .join('; ');

/** Pictures of a run never change, but its number may come to mean another run where the log was replaced. */
const KEPT_A_WHILE = 'private,max-age=600';

/** The routes below /runs, but for the frames to play. */
export function runRoutes(runs: Runs): Hono {
  const app = new Hono();
  app.get('/runs', async (context) => context.json(await runs.list(queryOfAddress(context.req.url))));
  app.post('/runs/remove', async (context) => {
    const ids = idsOfBody(await bodyOf(context.req));
    return context.json({ removed: await runs.remove(ids) });
  });
  app.get('/runs/:id', async (context) => context.json(await runs.stored(idOf(context))));
  app.patch('/runs/:id', async (context) => {
    const id = idOf(context);
    return context.json(await runs.change(id, changeOfBody(await bodyOf(context.req))));
  });
  app.get('/runs/:id/thumbnail', (context) => picture(runs.thumbnail(idOf(context))));
  app.get('/runs/:id/picture', (context) => picture(runs.picture(idOf(context))));
  app.get('/runs/:id/report', async (context) => context.json(await runs.reports.live(idOf(context))));
  app.get('/runs/:id/files/:name', (context) => file(runs, context));
  return app;
}

function idOf(context: Context): number {
  return runId(context.req.param('id') ?? '');
}

function picture(jpeg: Uint8Array): Response {
  return new Response(new Uint8Array(jpeg), {
    headers: { 'Content-Type': 'image/jpeg', 'Cache-Control': KEPT_A_WHILE },
  });
}

async function file(runs: Runs, context: Context): Promise<Response> {
  const id = idOf(context);
  const name = context.req.param('name') ?? '';
  if (!NAMED_FILES.includes(name))
    throw new WebProblem(404, 'file-unknown', `A run has no file "${name.slice(0, 60)}".`);
  const { clipFile } = runs.row(id);
  const isPage = name === 'report.html';
  const headers: Record<string, string> = {
    'Content-Type': typeOf(name),
    'Content-Disposition': disposition(
      isPage || name === 'proof.mp4' ? 'inline' : 'attachment',
      fileNameOf(clipFile, name),
    ),
    ...(isPage ? { 'Content-Security-Policy': REPORT_POLICY } : {}),
  };
  if (name !== 'report.pdf') return sendFile(context, await runs.reports.file(id, name), headers);
  const paper = paperOf(context.req.query('paper'));
  // Nothing is printed for somebody who asks for the headers.
  if (context.req.method === 'HEAD') return new Response(null, { headers });
  const printed: FileSource = await runs.reports.print(id, paper);
  return sendFile(context, printed, headers);
}

function paperOf(word = 'a4'): PrintPaper {
  const paper = PRINT_PAPERS.find((name) => name === word.toLowerCase());
  if (paper !== undefined) return paper;
  throw new WebProblem(400, 'argument-invalid', `The paper must be ${PRINT_PAPERS.join(' or ')}.`);
}
