/** Routes of clips, of folders they may be taken from, and of the small frames of runs. */
import { Hono, type Context } from 'hono';
import { clipTexts } from '../../texts/index.js';
import { WebProblem } from '../server/problem.js';
import type { Clips } from './clips.js';
import { shownName } from './clip-names.js';
import { figureIn, orderIn, wholeIn } from './order.js';
import { refuseTooLarge } from './receive-file.js';
import { runFrameRoutes, type RunSource } from './run-frame-routes.js';
import { sendJpeg } from './send-jpeg.js';

const FRAME_WIDTH_PX = 960;

/**
 * The routes, relative to /api.
 * @param runs gives the runs of the log; without it runs have no frames
 * @param isBusy whether work is under way on a clip, which then cannot be removed
 */
export function clipRoutes(
  clips: Clips,
  runs?: RunSource,
  isBusy: (clip: string) => boolean = () => false,
): Hono {
  const routes = new Hono()
    .put('/clips', async (context) => context.json(await clips.upload(sentFile(context, clips)), 201))
    .get('/folders/:id', async (context) =>
      context.json(await clips.list(context.req.param('id'), context.req.query('path') ?? '')),
    )
    .post('/clips/from-folder', async (context) => {
      const { folder, path } = await orderIn(context, ['folder', 'path'], clipTexts.orderFromFolder);
      return context.json(await clips.fromFolder(folder, path), 201);
    })
    .get('/clips/:id', async (context) => context.json(await clips.entry(context.req.param('id'))))
    .delete('/clips/:id', async (context) => {
      const { id, name } = clips.find(context.req.param('id'));
      if (isBusy(id)) throw new WebProblem(409, 'clip-busy', clipTexts.busy(name));
      await clips.remove(id);
      return context.body(null, 204);
    })
    .get('/clips/:id/posters', async (context) => {
      const { record, facts } = await clips.readable(context.req.param('id'));
      return context.json(await clips.previews.posters(record, facts));
    })
    .get('/clips/:id/posters/:n', async (context) => {
      const { record, facts } = await clips.readable(context.req.param('id'));
      return sendJpeg(context, await clips.previews.poster(record, facts, wholeIn(context.req.param('n'))));
    })
    .get('/clips/:id/frame', async (context) => {
      const { record, facts } = await clips.readable(context.req.param('id'));
      const atS = figureIn(context.req.query('at'));
      if (!(atS >= 0)) throw new WebProblem(400, 'moment-invalid', clipTexts.moment);
      const widthPx = wholeIn(context.req.query('width') ?? String(FRAME_WIDTH_PX));
      if (!Number.isInteger(widthPx)) throw new WebProblem(400, 'width-invalid', clipTexts.width);
      return sendJpeg(
        context,
        await clips.previews.frame(record, facts, atS, widthPx, context.req.raw.signal),
      );
    });
  return runs ? routes.route('/', runFrameRoutes(clips, runs)) : routes;
}

/** The file that a request brings. @throws WebProblem 413 `clip-too-large` before any of it is read; 400 `body-missing` */
function sentFile(context: Context, clips: Clips) {
  const name = shownName(context.req.query('name') ?? '');
  const stated = context.req.header('Content-Length');
  const statedBytes = stated !== undefined && /^\d+$/.test(stated) ? Number(stated) : null;
  refuseTooLarge({ name, statedBytes, mostBytes: clips.mostBytes });
  const { body } = context.req.raw;
  if (!body) throw new WebProblem(400, 'body-missing', clipTexts.noBody);
  return { name, statedBytes, body };
}
