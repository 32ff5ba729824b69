/** What the page has to know before anything else, and the stream of what happens. */
import { Hono } from 'hono';
import { SENSOR_FORMATS } from '../../optics/index.js';
import { resolveDelivery } from '../../judge/index.js';
import { toolVersion } from '../../tool-version.js';
import type { About } from '../api.js';
import type { WebContext } from './context.js';
import type { PageEvent, PageEventHub } from './event-stream.js';

/** The routes. @param first what a page is told on connecting */
export function aboutRoutes(
  context: WebContext,
  hub: PageEventHub,
  loopback: boolean,
  first: () => readonly PageEvent[],
): Hono {
  const about: About = {
    version: toolVersion().version,
    folders: context.folders,
    maxUploadBytes: context.maxUploadBytes,
    reportsFolder: context.outDir,
    deliveries: Object.fromEntries(
      Object.keys(context.presets).map((name) => [name, resolveDelivery({ name }, context.presets)]),
    ),
    sensors: Object.fromEntries(Object.entries(SENSOR_FORMATS).map(([name, { widthMm }]) => [name, widthMm])),
    atOnce: context.atOnce,
    loopback,
  };
  return new Hono()
    .get('/about', (request) => request.json(about))
    .get('/events', (request) => hub.stream(request, first, context.signal));
}
