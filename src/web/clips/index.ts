/** Clips on the local page: uploads, folders of this machine, posters, frames, and the small frames that runs are played from. */
import type { WebContext } from '../server/context.js';
import { Clips } from './clips.js';

export { clipRoutes } from './clip-routes.js';
export { Clips } from './clips.js';
export type { MeasuredRun } from './frame-packs.js';
export type { RunSource } from './run-frame-routes.js';

/** Opens what is known of clips, from the data folder of the context. */
export function openClips(context: WebContext): Promise<Clips> {
  return Clips.open(context);
}
