/** Routes of the small frames that runs are played from. */
import { Hono, type Context } from 'hono';
import { clipTexts } from '../../texts/index.js';
import { WebProblem } from '../server/problem.js';
import { orderIn, wholeIn } from './order.js';
import type { Clips } from './clips.js';
import type { MeasuredRun } from './frame-packs.js';
import { sendJpeg } from './send-jpeg.js';

/** Where runs of the log are read. */
export interface RunSource {
  /** @throws TrundleError `log-entry-unknown`, `log-entry-unreadable` */
  runOf(id: number): MeasuredRun | Promise<MeasuredRun>;
}

/** The routes, relative to /api. */
export function runFrameRoutes(clips: Clips, runs: RunSource): Hono {
  const clipOf = (sha256: string) => clips.ofSha256(sha256);
  return new Hono()
    .get('/runs/:id/frames', async (context) => {
      const id = runIn(context);
      return context.json(await clips.packs.ask(id, await runs.runOf(id), clipOf));
    })
    .get('/runs/:id/frames/:n', async (context) => {
      const id = runIn(context);
      const n = wholeIn(context.req.param('n'));
      return sendJpeg(context, await clips.packs.frame(id, n, async () => runs.runOf(id)));
    })
    .post('/runs/:id/clip', async (context) => {
      const id = runIn(context);
      const { clip } = await orderIn(context, ['clip'], clipTexts.orderClip);
      const measured = await runs.runOf(id);
      const { sha256, file } = measured.run.clip;
      if (!(await clips.isFile(clip, sha256)))
        throw new WebProblem(409, 'clip-other', clipTexts.otherClip(clips.find(clip).name, file));
      clips.packs.retry(measured);
      return context.json(await clips.packs.ask(id, measured, clipOf));
    });
}

/** The number of the run in the address. @throws WebProblem 404 `run-unknown` */
function runIn(context: Context): number {
  const id = wholeIn(context.req.param('id') ?? '');
  if (!(id >= 1)) throw new WebProblem(404, 'run-unknown', clipTexts.runUnknown);
  return id;
}
